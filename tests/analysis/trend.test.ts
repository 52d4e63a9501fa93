import { describe, expect, it } from 'vitest';
import { createRandom } from '../../shared/model/random.ts';
import { mannKendall, theilSen } from '../../shared/analysis/trend.ts';
import { reference } from './reference.ts';

type Inputs = { x: number[]; y: number[] };
type Test = { S: number; var_S: number; Z: number; p_two_sided: number };

// Sources: Sen 1968, JASA 63, 1379; Mann 1945; Kendall 1975. Computed with SciPy theilslopes and kendalltau, and R cor.test.
describe('trend of the Nile at Aswan', () => {
  const { inputs, expected } = reference<
    Inputs,
    { mann_kendall: Test; theil_sen: { slope: number; ci95: [number, number] }; R_p: number }
  >('trend-nile');
  const [x, y] = [Float64Array.from(inputs.x), Float64Array.from(inputs.y)];

  it('has the slope and interval of SciPy', () => {
    const found = theilSen(x, y, 0.95)!;
    expect(Math.abs(found.slope - expected.theil_sen.slope)).toBeLessThan(1e-12);
    expect(found.ci).toEqual(expected.theil_sen.ci95);
  });

  it('passes the Mann-Kendall test as in SciPy and R', () => {
    const found = mannKendall(y);
    expect(found.score).toBe(expected.mann_kendall.S);
    expect(Math.abs(found.variance / expected.mann_kendall.var_S - 1)).toBeLessThan(1e-12);
    expect(Math.abs(found.z - expected.mann_kendall.Z)).toBeLessThan(1e-9);
    expect(Math.abs(found.p - expected.R_p)).toBeLessThan(1e-12);
  });
});

describe('trend of ten uneven years with one outlier', () => {
  const { inputs, expected } = reference<Inputs, { slope: number; ci95: [number, number]; mann_kendall: Test }>(
    'trend-small-outlier',
  );
  const [x, y] = [Float64Array.from(inputs.x), Float64Array.from(inputs.y)];

  it('agrees with SciPy', () => {
    const found = theilSen(x, y, 0.95)!;
    expect(Math.abs(found.slope - expected.slope)).toBeLessThan(1e-12);
    found.ci.forEach((end, i) => expect(Math.abs(end - expected.ci95[i]!)).toBeLessThan(1e-12));
    const test = mannKendall(y);
    expect([test.score, test.variance]).toEqual([expected.mann_kendall.S, expected.mann_kendall.var_S]);
    expect(Math.abs(test.z - expected.mann_kendall.Z)).toBeLessThan(1e-12);
    expect(Math.abs(test.p - expected.mann_kendall.p_two_sided)).toBeLessThan(1e-12);
  });
});

describe('neighbours that are alike', () => {
  it('need the inflation, or chance passes for a trend', () => {
    // AR(1) with 0.8: 1 / inflation of the mean's variance is (1 - 0.8) / (1 + 0.8), textbook (Priestley 1981, 5.3).
    const random = createRandom(5);
    const alarms = { plain: 0, honoured: 0 };
    const runs = 200;
    for (let run = 0; run < runs; run += 1) {
      const values = new Float64Array(200);
      let level = random.normal();
      for (let i = 0; i < values.length; i += 1) {
        level = 0.8 * level + 0.6 * random.normal();
        values[i] = level;
      }
      if (mannKendall(values).p < 0.05) alarms.plain += 1;
      if (mannKendall(values, 9).p < 0.05) alarms.honoured += 1;
    }
    // 5 % of 200 are 10; 20 is beyond the 99.9 % point of that binomial.
    expect(alarms.honoured).toBeLessThanOrEqual(20);
    expect(alarms.plain).toBeGreaterThan(60);
  });
});

it('a series at one moment has no slope', () => {
  expect(theilSen(Float64Array.of(1, 1, 1), Float64Array.of(1, 2, 3), 0.95)).toBeUndefined();
});
