import { describe, expect, it } from 'vitest';
import { studentQuantile } from '../../shared/numerics/distributions.ts';

// Up to 50 degrees of freedom against mpmath: tests/verify/distributions.ts.
describe("Student's quantile of very many degrees of freedom", () => {
  // mpmath 1.3.0 at 60 digits: root of the integrated density, cut to 13 decimals.
  const probabilities = [0.9, 0.975, 0.9957, 0.9999];
  it.each([
    [1e4, [1.2816362297304, 1.9602012398906, 2.6280780162626, 3.7203958691176]],
    [1e5, [1.2815600314493, 1.9599877075346, 2.6276106320535, 3.7191543826413]],
    [1e6, [1.2815524121299, 1.9599663568141, 2.6275639022132, 3.7190302747625]],
    [1e9, [1.2815515663911, 1.9599639869123, 2.6275587152971, 3.7190164992449]],
    [1e12, [1.2815515655454, 1.9599639845424, 2.6275587101102, 3.7190164854694]],
    [1e15, [1.2815515655446, 1.95996398454, 2.627558710105, 3.7190164854556]],
    [1e18, [1.2815515655446, 1.95996398454, 2.627558710105, 3.7190164854556]],
  ])('has the digits of an independent computation at %d degrees', (degrees, expected) => {
    probabilities.forEach((p, i) => {
      // As tests/reference/quantiles-normal-t-chi2.json asks of fewer degrees.
      expect(Math.abs(studentQuantile(p, degrees) / expected[i]! - 1)).toBeLessThan(1e-9);
      expect(Math.abs(studentQuantile(1 - p, degrees) / expected[i]! + 1)).toBeLessThan(1e-9);
    });
  });

  it('is infinite at the ends of the distribution, and zero in its middle', () => {
    expect([0, 0.5, 1].map((p) => studentQuantile(p, 1e12))).toEqual([-Infinity, 0, Infinity]);
  });
});
