import { expect, it } from 'vitest';
import { unimodal } from '../../shared/numerics/isotonic.ts';

it('a curve that rises and then falls is its own unimodal fit', () => {
  const hill = Float64Array.of(0, 1, 3, 3, 2, -1);
  expect([...unimodal(hill, new Float64Array(6).fill(1))]).toEqual([...hill]);
});
