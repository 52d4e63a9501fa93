/** Symmetric positive definite matrices, row by row. */
export type Matrix = Float64Array[];

/**
 * Lower triangular factor L of A = L L'. Undefined where A is not positive definite in the precision of its numbers.
 * Source: Golub and Van Loan 2013, Matrix Computations, algorithm 4.2.1.
 */
export function cholesky(a: Matrix): Matrix | undefined {
  const n = a.length;
  const l = a.map(() => new Float64Array(n));
  for (let j = 0; j < n; j += 1)
    for (let i = j; i < n; i += 1) {
      let sum = a[i]![j]!;
      for (let k = 0; k < j; k += 1) sum -= l[i]![k]! * l[j]![k]!;
      if (i > j) l[i]![j] = sum / l[j]![j]!;
      // What is left of a column that the others give is rounding error.
      else if (sum > 1e-13 * a[j]![j]!) l[j]![j] = Math.sqrt(sum);
      else return undefined;
    }
  return l;
}

/** The x of A x = b, from the factor of A. */
export function solveCholesky(l: Matrix, b: ArrayLike<number>): Float64Array {
  const x = forward(l, b);
  for (let i = l.length - 1; i >= 0; i -= 1) {
    for (let k = i + 1; k < l.length; k += 1) x[i]! -= l[k]![i]! * x[k]!;
    x[i]! /= l[i]![i]!;
  }
  return x;
}

/** The z of L z = b; the square of its length is b' A^-1 b. */
export function forward(l: Matrix, b: ArrayLike<number>): Float64Array {
  const z = Float64Array.from(b);
  for (let i = 0; i < l.length; i += 1) {
    for (let k = 0; k < i; k += 1) z[i]! -= l[i]![k]! * z[k]!;
    z[i]! /= l[i]![i]!;
  }
  return z;
}
