import { describe, expect, it } from 'vitest';
import { cubicSplinesAt, splineCount } from '../../shared/numerics/b-spline.ts';

const splinesAt = (knots: readonly number[], p: number) => {
  const values = new Float64Array(4);
  const first = cubicSplinesAt(knots, p, values);
  return { first, values: [...values] };
};

describe('cubic B-splines', () => {
  // The cardinal cubic B-spline: de Boor 1978, A Practical Guide to Splines, chapter X (1/6, 2/3, 1/6 at its knots; 1/48 and 23/48 between).
  it.each([
    [4, 1, [1 / 6, 4 / 6, 1 / 6, 0]],
    [4.5, 1, [1 / 48, 23 / 48, 23 / 48, 1 / 48]],
    [5, 2, [1 / 6, 4 / 6, 1 / 6, 0]],
  ])('at %d of whole-numbered knots begin with number %d', (p, first, expected) => {
    const found = splinesAt([0, 1, 2, 3, 4, 5, 6, 7, 8, 9], p);
    expect(found.first).toBe(first);
    found.values.forEach((value, k) => expect(value).toBeCloseTo(expected[k]!, 14));
  });

  const uneven = [-2, -1, 0.1, 0.5, 0.9, 1.2, 2.5, 2.6, 4, 5, 6, 7.5];

  it('sum to 1 and make a straight line of the means of three knots, however uneven the knots', () => {
    // Marsden 1970, J. Approximation Theory 3, 7 (Greville abscissae).
    const means = uneven.map((_, k) => (uneven[k + 1]! + uneven[k + 2]! + uneven[k + 3]!) / 3);
    expect(splineCount(uneven)).toBe(8);
    for (let p = 0.5; p <= 4; p += 0.07) {
      const { first, values } = splinesAt(uneven, p);
      expect(values.reduce((sum, value) => sum + value, 0)).toBeCloseTo(1, 13);
      expect(values.reduce((sum, value, k) => sum + value * means[first + k]!, 0)).toBeCloseTo(p, 13);
    }
  });

  it('keep their value beyond the range that they cover', () => {
    expect(splinesAt(uneven, -3)).toEqual(splinesAt(uneven, 0.5));
    expect(splinesAt(uneven, 9)).toEqual(splinesAt(uneven, 4));
  });
});
