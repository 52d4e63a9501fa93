/** Dot product of two vectors of the same length. */
export const dot = (a: Float64Array, b: Float64Array) => {
  let sum = 0;
  for (let i = 0; i < a.length; i += 1) sum += a[i]! * b[i]!;
  return sum;
};

/** Euclidean norm of each column of an m x n matrix, row by row. */
export function columnNorms(jacobian: Float64Array, m: number, n: number): Float64Array {
  const sums = new Float64Array(n);
  for (let i = 0; i < m; i += 1) for (let j = 0; j < n; j += 1) sums[j]! += jacobian[i * n + j]! ** 2;
  return sums.map(Math.sqrt);
}

/** The scaled linear problem min |R y - q| at some parameters: R upper triangular, n x n, row by row, and q = -Q'r. */
export interface QrFactor {
  r: Float64Array;
  q: Float64Array;
}

/**
 * QR factorization of the Jacobian J with scaled columns, J D^-1 = Q R, by Householder reflections, with Q' applied to -r: once
 * for some parameters, whatever damping is tried there. Undefined when a number is not finite.
 *
 * @param jacobian   m x n, row by row
 * @param residuals  r, m of them
 * @param scale      the diagonal of D, n numbers above zero
 * @param workspace  m x n and m numbers, overwritten
 * Source: Golub and Van Loan 1996, Matrix Computations, 5.2.1.
 */
export function qr(
  jacobian: Float64Array,
  residuals: Float64Array,
  scale: Float64Array,
  m: number,
  n: number,
  { a, b }: { a: Float64Array; b: Float64Array },
): QrFactor | undefined {
  for (let i = 0; i < m; i += 1) {
    for (let j = 0; j < n; j += 1) a[i * n + j] = jacobian[i * n + j]! / scale[j]!;
    b[i] = -residuals[i]!;
  }
  return householder(a, b, m, n) ? { r: a.slice(0, n * n), q: b.slice(0, n) } : undefined;
}

/**
 * Size of the gradient: the largest cosine between the residuals and a column of the Jacobian, zero at a minimum, whatever the
 * units.
 *
 * @param rss  residual sum of squares
 */
export function gradientSize({ r, q }: QrFactor, rss: number, n: number): number {
  let largest = 0;
  if (rss === 0) return 0;
  for (let j = 0; j < n; j += 1) {
    let sum = 0;
    let norm = 0;
    for (let i = 0; i <= j; i += 1) {
      sum += r[i * n + j]! * q[i]!;
      norm += r[i * n + j]! ** 2;
    }
    if (norm > 0) largest = Math.max(largest, Math.abs(sum) / Math.sqrt(norm * rss));
  }
  return largest;
}

/**
 * Levenberg-Marquardt step: solves min |R y - q|^2 + damping |y|^2 by Householder reflections of the stacked matrix. With it
 * the reduction of the residual sum of squares that the linear model predicts. Undefined when the system is singular.
 */
export function dampedStep({ r, q }: QrFactor, damping: number, n: number) {
  const a = new Float64Array(2 * n * n);
  const b = new Float64Array(2 * n);
  a.set(r);
  b.set(q);
  const root = Math.sqrt(damping);
  for (let j = 0; j < n; j += 1) a[(n + j) * n + j] = root;
  if (!householder(a, b, 2 * n, n)) return undefined;
  const step = backSubstitute(a, b, n);
  if (!step) return undefined;
  let predictedReduction = 0;
  for (let i = 0; i < n; i += 1) {
    let along = 0;
    for (let j = i; j < n; j += 1) along += r[i * n + j]! * step[j]!;
    // |q|^2 - |q - R y|^2, without the difference of two large numbers.
    predictedReduction += along * (2 * q[i]! - along);
  }
  return { step, predictedReduction };
}

/** Reduces `a` (rows x n, row by row) to upper triangle in place, zeros below, and applies the reflections to `b`. */
function householder(a: Float64Array, b: Float64Array, rows: number, n: number): boolean {
  const sums = new Float64Array(n);
  for (let k = 0; k < n; k += 1) {
    let norm = 0;
    for (let i = k; i < rows; i += 1) norm += a[i * n + k]! ** 2;
    norm = Math.sqrt(norm);
    if (!Number.isFinite(norm)) return false;
    if (norm === 0) continue;
    const pivot = a[k * n + k]!;
    const alpha = pivot > 0 ? -norm : norm;
    const v0 = pivot - alpha;
    // The reflector is v = (v0, a[k+1..]) with |v|^2 = 2 norm (norm + |pivot|). Row by row, as the numbers lie in memory.
    const half = norm * (norm + Math.abs(pivot));
    let sumB = v0 * b[k]!;
    for (let j = k + 1; j < n; j += 1) sums[j] = v0 * a[k * n + j]!;
    for (let i = k + 1; i < rows; i += 1) {
      const v = a[i * n + k]!;
      if (v === 0) continue;
      for (let j = k + 1; j < n; j += 1) sums[j]! += v * a[i * n + j]!;
      sumB += v * b[i]!;
    }
    for (let j = k + 1; j < n; j += 1) {
      sums[j]! /= half;
      a[k * n + j]! -= sums[j]! * v0;
    }
    sumB /= half;
    b[k]! -= sumB * v0;
    for (let i = k + 1; i < rows; i += 1) {
      const v = a[i * n + k]!;
      if (v === 0) continue;
      for (let j = k + 1; j < n; j += 1) a[i * n + j]! -= sums[j]! * v;
      b[i]! -= sumB * v;
      a[i * n + k] = 0;
    }
    a[k * n + k] = alpha;
  }
  return true;
}

function backSubstitute(a: Float64Array, b: Float64Array, n: number): Float64Array | undefined {
  const x = new Float64Array(n);
  for (let k = n - 1; k >= 0; k -= 1) {
    let sum = b[k]!;
    for (let j = k + 1; j < n; j += 1) sum -= a[k * n + j]! * x[j]!;
    const pivot = a[k * n + k]!;
    if (pivot === 0) return undefined;
    x[k] = sum / pivot;
  }
  return x.every(Number.isFinite) ? x : undefined;
}

/**
 * (J'J)^-1, n x n, row by row, from the factor of J D^-1; a column that adds nothing to the others gets an infinite variance.
 *
 * @param scale  the diagonal of D
 */
export function inverseNormal({ r }: QrFactor, scale: Float64Array, n: number): Float64Array {
  const norms = columnNorms(r, n, n);
  const inverse = new Float64Array(n * n); // of R, upper
  for (let column = 0; column < n; column += 1) {
    for (let k = column; k >= 0; k -= 1) {
      let sum = k === column ? 1 : 0;
      for (let j = k + 1; j <= column; j += 1) sum -= r[k * n + j]! * inverse[j * n + column]!;
      const pivot = r[k * n + k]!;
      inverse[k * n + column] = Math.abs(pivot) < 1e-14 * norms[k]! || pivot === 0 ? Infinity : sum / pivot;
    }
  }
  const result = new Float64Array(n * n);
  for (let i = 0; i < n; i += 1)
    for (let j = 0; j < n; j += 1) {
      let sum = 0;
      for (let k = Math.max(i, j); k < n; k += 1) sum += inverse[i * n + k]! * inverse[j * n + k]!;
      result[i * n + j] = sum / (scale[i]! * scale[j]!);
    }
  return result;
}
