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
  for (let j = 0; j < n; j += 1) {
    const divisor = scale[j]!;
    for (let i = 0, at = j; i < m; i += 1, at += n) a[j * m + i] = jacobian[at]! / divisor;
  }
  for (let i = 0; i < m; i += 1) b[i] = -residuals[i]!;
  return householder(a, b, m, n) ? { r: upperTriangle(a, m, n), q: b.slice(0, n) } : undefined;
}

/** The first n rows of a matrix that lies column by column, row by row. */
function upperTriangle(a: Float64Array, rows: number, n: number): Float64Array {
  const r = new Float64Array(n * n);
  for (let i = 0; i < n; i += 1) for (let j = i; j < n; j += 1) r[i * n + j] = a[j * rows + i]!;
  return r;
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
  const rows = 2 * n;
  const a = new Float64Array(rows * n);
  const b = new Float64Array(rows);
  b.set(q);
  const root = Math.sqrt(damping);
  for (let j = 0; j < n; j += 1) {
    for (let i = 0; i <= j; i += 1) a[j * rows + i] = r[i * n + j]!;
    a[j * rows + n + j] = root;
  }
  if (!householder(a, b, rows, n)) return undefined;
  const step = backSubstitute(upperTriangle(a, rows, n), b, n);
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

/**
 * Reduces `a` (rows x n, column by column: what is multiplied with each other lies in a row in memory) to upper triangle in place, and
 * applies the reflections to `b`. Below the triangle the reflectors are left.
 */
function householder(a: Float64Array, b: Float64Array, rows: number, n: number): boolean {
  for (let k = 0; k < n; k += 1) {
    const column = k * rows;
    // A column of the discrepancy is zero but for a stretch.
    let last = rows - 1;
    while (last > k && a[column + last] === 0) last -= 1;
    let norm = 0;
    for (let i = k; i <= last; i += 1) norm += a[column + i]! * a[column + i]!;
    norm = Math.sqrt(norm);
    if (!Number.isFinite(norm)) return false;
    if (norm === 0) continue;
    const pivot = a[column + k]!;
    const alpha = pivot > 0 ? -norm : norm;
    // The reflector is v = (v0, a[k+1..]) with |v|^2 = 2 norm (norm + |pivot|).
    const v0 = pivot - alpha;
    const half = norm * (norm + Math.abs(pivot));
    let first = k + 1;
    while (first <= last && a[column + first] === 0) first += 1;
    let j = k + 1;
    const by: Reflector = { a, column, k, v0, half, first, last };
    for (; j + 1 < n; j += 2) reflectTwo(by, j * rows, (j + 1) * rows);
    if (j < n) reflect(by, a, j * rows);
    reflect(by, b, 0);
    a[column + k] = alpha;
  }
  return true;
}

/** A Householder reflector: `v0` at place k, and the places `first` to `last` of a column of `a`; it is zero elsewhere. `half`: |v|^2 / 2. */
interface Reflector {
  a: Float64Array;
  column: number;
  k: number;
  v0: number;
  half: number;
  first: number;
  last: number;
}

/**
 * Reflects two columns of the same matrix, which begin at `one` and `two`. Two at a time, since reading the reflector takes as long as
 * multiplying it, and with two sums for each, since an addition waits for the one before.
 */
function reflectTwo({ a, column, k, v0, half, first, last }: Reflector, one: number, two: number): void {
  let alongOne = v0 * a[one + k]!;
  let alongTwo = v0 * a[two + k]!;
  let oddOne = 0;
  let oddTwo = 0;
  let i = first;
  for (; i < last; i += 2) {
    const v = a[column + i]!;
    const w = a[column + i + 1]!;
    alongOne += v * a[one + i]!;
    alongTwo += v * a[two + i]!;
    oddOne += w * a[one + i + 1]!;
    oddTwo += w * a[two + i + 1]!;
  }
  if (i === last) {
    alongOne += a[column + i]! * a[one + i]!;
    alongTwo += a[column + i]! * a[two + i]!;
  }
  alongOne = (alongOne + oddOne) / half;
  alongTwo = (alongTwo + oddTwo) / half;
  a[one + k]! -= alongOne * v0;
  a[two + k]! -= alongTwo * v0;
  for (i = first; i <= last; i += 1) {
    const v = a[column + i]!;
    a[one + i]! -= alongOne * v;
    a[two + i]! -= alongTwo * v;
  }
}

/** Reflects the vector that begins at `at`. */
function reflect({ a, column, k, v0, half, first, last }: Reflector, vector: Float64Array, at: number): void {
  // Four sums at a time, since an addition that waits for the one before takes most of the time.
  let one = v0 * vector[at + k]!;
  let two = 0;
  let three = 0;
  let four = 0;
  let next = first;
  for (; next + 3 <= last; next += 4) {
    one += a[column + next]! * vector[at + next]!;
    two += a[column + next + 1]! * vector[at + next + 1]!;
    three += a[column + next + 2]! * vector[at + next + 2]!;
    four += a[column + next + 3]! * vector[at + next + 3]!;
  }
  for (; next <= last; next += 1) one += a[column + next]! * vector[at + next]!;
  const along = (one + two + (three + four)) / half;
  vector[at + k]! -= along * v0;
  for (let i = first; i <= last; i += 1) vector[at + i]! -= along * a[column + i]!;
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
