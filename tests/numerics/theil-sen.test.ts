import { describe, expect, it } from 'vitest';
import { createRandom } from '../../shared/numerics/random.ts';
import { theilSen } from '../../shared/numerics/theil-sen.ts';

// Against SciPy and R: tests/verify/trend.ts.
describe('neighbours that are alike', () => {
  it('need the inflation, or chance passes for a trend', () => {
    // AR(1) with 0.8: 1 / inflation of the mean's variance is (1 - 0.8) / (1 + 0.8), textbook (Priestley 1981, 5.3).
    const random = createRandom(5);
    const alarms = { plain: 0, honoured: 0 };
    const order = Float64Array.from({ length: 200 }, (_, i) => i);
    const rises = (values: Float64Array, inflation: number) => {
      const [low, high] = theilSen(order, values, 0.95, inflation)!.ci;
      return low > 0 || high < 0;
    };
    const runs = 200;
    for (let run = 0; run < runs; run += 1) {
      const values = new Float64Array(order.length);
      let level = random.normal();
      for (let i = 0; i < values.length; i += 1) {
        level = 0.8 * level + 0.6 * random.normal();
        values[i] = level;
      }
      if (rises(values, 1)) alarms.plain += 1;
      if (rises(values, 9)) alarms.honoured += 1;
    }
    // 5 % of 200 are 10; 20 is beyond the 99.9 % point of that binomial.
    expect(alarms.honoured).toBeLessThanOrEqual(20);
    expect(alarms.plain).toBeGreaterThan(60);
  });
});

it('a series at one moment has no slope', () => {
  expect(theilSen(Float64Array.of(1, 1, 1), Float64Array.of(1, 2, 3), 0.95)).toBeUndefined();
});
