import { expect, it } from 'vitest';
import { changePoint } from '../../shared/numerics/change-point.ts';

// The Nile's change of level against R strucchange: tests/verify/change-point.ts.
it('too few values have no change', () => {
  expect(changePoint(Float64Array.of(1, 2, 3), 2)).toBeUndefined();
});
