import { expect, it } from 'vitest';
import { conformanceProbability } from '../../shared/numerics/conformance.ts';

// Against the examples of JCGM 106:2012: tests/verify/conformance.ts.
it('conformance is all or nothing without uncertainty', () => {
  const low = { value: 1, u: 0 };
  const high = { value: 3, u: 0 };
  expect([0.9, 1, 2, 3, 3.1].map((value) => conformanceProbability(value, low, high))).toEqual([0, 0.5, 1, 0.5, 0]);
});
