import { describe, expect, it } from 'vitest';
import { combineUncertainty } from '../../shared/numerics/uncertainty.ts';

// Against GUM example H.1: tests/verify/uncertainty.ts.
describe('combined uncertainty', () => {
  it('is zero of no components, and infinite degrees of freedom do not count', () => {
    expect(combineUncertainty([])).toEqual({ u: 0, degrees: Infinity });
    expect(combineUncertainty([{ u: 0, degrees: 3 }])).toEqual({ u: 0, degrees: Infinity });
    // From G.4.1 by hand: 5^4 / (3^4 / 9) = 625 / 9.
    expect(
      combineUncertainty([
        { u: 3, degrees: 9 },
        { u: 4, degrees: Infinity },
      ]).degrees,
    ).toBeCloseTo(625 / 9, 10);
  });

  it('neither overflows nor vanishes with the unit', () => {
    for (const unit of [1e-120, 1e120]) {
      const combined = combineUncertainty([
        { u: 3 * unit, degrees: 9 },
        { u: 4 * unit, degrees: Infinity },
      ]);
      expect(combined.u / unit).toBeCloseTo(5, 10);
      expect(combined.degrees).toBeCloseTo(625 / 9, 10);
    }
  });
});
