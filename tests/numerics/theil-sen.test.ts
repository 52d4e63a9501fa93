import { describe, expect, it } from 'vitest';
import { createRandom } from '../../shared/numerics/random.ts';
import { theilSen } from '../../shared/numerics/theil-sen.ts';

// Against SciPy and R: tests/verify/trend.ts.
describe('the slope of autocorrelated values', () => {
  it('needs the variance inflation, or chance passes for a trend', () => {
    // AR(1) with 0.8: 1 / inflation of the mean's variance is (1 - 0.8) / (1 + 0.8), textbook (Priestley 1981, 5.3).
    const random = createRandom(5);
    const alarms = { plain: 0, inflated: 0 };
    let widths = 0;
    const order = Float64Array.from({ length: 200 }, (_, i) => i);
    const excludesZero = ([low, high]: readonly [number, number]) => low > 0 || high < 0;
    const runs = 200;
    for (let run = 0; run < runs; run += 1) {
      const values = new Float64Array(order.length);
      let level = random.normal();
      for (let i = 0; i < values.length; i += 1) {
        level = 0.8 * level + 0.6 * random.normal();
        values[i] = level;
      }
      const inflated = theilSen(order, values, 0.95, 9)!.ci;
      if (excludesZero(theilSen(order, values, 0.95, 1)!.ci)) alarms.plain += 1;
      if (excludesZero(inflated)) alarms.inflated += 1;
      widths += inflated[1] - inflated[0];
    }
    // 5 % of 200 are 10; 20 is beyond the 99.9 % point of that binomial.
    expect(alarms.inflated).toBeLessThanOrEqual(20);
    expect(alarms.plain).toBeGreaterThan(60);
    // Not because the interval is wide: a least-squares slope over 0 to n - 1 of unit variance, inflated by 9, has the standard
    // error sqrt(9 x 12 / n^3) = 0.0037 (textbook), so its 95 % interval is 0.0144 wide. Half as much again for the median of
    // slopes.
    expect(widths / runs).toBeLessThan(1.5 * 0.0144);
  });
});

it('a series at one moment has no slope', () => {
  expect(theilSen(Float64Array.of(1, 1, 1), Float64Array.of(1, 2, 3), 0.95)).toBeUndefined();
});
