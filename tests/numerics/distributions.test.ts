import { describe, expect, it } from 'vitest';
import { studentQuantile } from '../../shared/numerics/distributions.ts';

// Up to 50 degrees of freedom against mpmath: tests/verify/distributions.ts.
describe("Student's quantile of very many degrees of freedom", () => {
  // mpmath 1.3.0 at 60 digits: root of the integrated density.
  const probabilities = [0.9, 0.975, 0.9957, 0.9999];
  it.each([
    [1e4, [1.2816362297304775, 1.9602012398906263, 2.628078016262686, 3.7203958691176402]],
    [1e5, [1.281560031449361, 1.9599877075346096, 2.6276106320535423, 3.7191543826413444]],
    [1e6, [1.2815524121299385, 1.959966356814107, 2.6275639022132277, 3.7190302747625434]],
    [1e9, [1.2815515663911852, 1.9599639869123255, 2.6275587152971362, 3.7190164992449417]],
    [1e12, [1.2815515655454471, 1.9599639845424265, 2.6275587101102297, 3.7190164854694698]],
    [1e15, [1.2815515655446013, 1.9599639845400566, 2.6275587101050428, 3.7190164854556944]],
    [1e18, [1.2815515655446005, 1.9599639845400542, 2.6275587101050376, 3.7190164854556806]],
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
