import { describe, expect, it } from 'vitest';
import { inflationOfSquares } from '../../../shared/numerics/autocorrelation.ts';
import { scatterChangeInterval } from '../../../shared/analysis/compare/scatter.ts';

describe('the change of a scatter', () => {
  // Chi-square of 20 degrees, printed tables: 9.591 and 34.170 at 2.5 and 97.5 %. So a deviation of 1 lies in
  // sqrt(20 / 34.170) = 0.7650 to sqrt(20 / 9.591) = 1.4441, and a difference of two such in
  // +-sqrt(0.2350^2 + 0.4441^2) = 0.5024 (Zou and Donner 2008).
  const one = { sd: 1, degrees: 20, otherU: 0 };

  it('has the interval of both chi-square intervals', () => {
    const [low, high] = scatterChangeInterval(one, one, 0.95);
    expect(low).toBeCloseTo(-0.5024, 3);
    expect(high).toBeCloseTo(0.5024, 3);
  });

  it('is told where twenty readings scatter two and a half times as much', () => {
    // sqrt((2.5 x 0.2350)^2 + 0.4441^2) = 0.7365 below a change of 1.5.
    expect(scatterChangeInterval(one, { ...one, sd: 2.5 }, 0.95)[0]).toBeCloseTo(1.5 - 0.7365, 3);
  });

  it('is wider by what the meter may be wrong by', () => {
    // 1.96 x 0.3 and 0.5024 in quadrature.
    const [low] = scatterChangeInterval(one, { ...one, otherU: 0.3 }, 0.95);
    expect(low).toBeCloseTo(-Math.hypot(0.5024, 1.95996 * 0.3), 3);
  });
});

describe('correlated readings', () => {
  it('inflate a mean square less than a mean', () => {
    expect(inflationOfSquares(1)).toBe(1);
    // Neighbors correlated by 0.5: (1 + 0.5) / (1 - 0.5) = 3 for the mean, (1 + 0.25) / (1 - 0.25) = 5 / 3 for the square.
    expect(inflationOfSquares(3)).toBeCloseTo(5 / 3, 12);
  });
});
