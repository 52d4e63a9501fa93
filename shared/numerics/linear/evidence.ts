import { cholesky, forward, type Matrix } from './cholesky.ts';
import { log } from '../elementary.ts';

/** A linear problem in normal form: the sum of squares |A x - b|^2 as A'A, A'b and b'b, each row divided by its deviation. */
export interface NormalForm {
  /** A'A. */
  matrix: Matrix;
  /** A'b. */
  right: Float64Array;
  /** b'b. */
  square: number;
}

/** The normal form of no rows, for `n` unknowns. */
export const emptyNormalForm = (n: number): NormalForm => ({
  matrix: Array.from({ length: n }, () => new Float64Array(n)),
  right: new Float64Array(n),
  square: 0,
});

/**
 * Adds one row a x = b to a normal form, in place.
 *
 * @param weight  of its square
 */
export function addRow(form: NormalForm, row: Float64Array, b: number, weight: number): void {
  const n = form.right.length;
  form.square += weight * b * b;
  for (let j = 0; j < n; j += 1) {
    const value = weight * row[j]!;
    if (value === 0) continue;
    form.right[j]! += value * b;
    for (let k = 0; k < n; k += 1) form.matrix[j]![k]! += value * row[k]!;
  }
}

/**
 * Logarithm of the evidence for unknowns `from` to `to` (exclusive) that are normal about zero with deviation `size`: the probability of the
 * readings with all unknowns integrated out, but for what is the same for every size. The size with the largest is the one that the readings
 * themselves suggest.
 * Sources: MacKay 1992, Neural Computation 4, 415; Robbins 1956, Proc. Third Berkeley Symposium 1, 157 (empirical Bayes).
 *
 * @param form  of the readings and of what else is known of the unknowns
 * @param size  above zero
 * -Infinity where the unknowns are not determined.
 */
export function logEvidence({ matrix, right, square }: NormalForm, from: number, to: number, size: number): number {
  const precision = 1 / size ** 2;
  const factor = cholesky(
    matrix.map((row, j) => {
      const own = Float64Array.from(row);
      if (j >= from && j < to) own[j]! += precision;
      return own;
    }),
  );
  if (!factor) return -Infinity;
  const least = forward(factor, right).reduce((sum, z) => sum - z * z, square);
  const logDeterminant = factor.reduce((sum, row, j) => sum + 2 * log(row[j]!), 0);
  return 0.5 * ((to - from) * log(precision) - logDeterminant - least);
}
