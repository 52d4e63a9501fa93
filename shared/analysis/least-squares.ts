/**
 * Why the search ended. Only the first three are answers. `flat`: it came to rest where a parameter has lost its influence
 * altogether, so the place is no minimum of the problem as it was put.
 */
export type Stop = 'gradient' | 'step' | 'decrease' | 'flat' | 'iterations' | 'singular' | 'not-finite';

export interface Fit {
  parameters: Float64Array;
  /** n x n, row by row: (J'J)^-1 times the residual variance; residuals are expected weighted. */
  covariance: Float64Array;
  /** (J'J)^-1 without the variance. */
  unscaled: Float64Array;
  /** m x n, row by row, at the answer. */
  jacobian: Float64Array;
  residuals: Float64Array;
  /** Sum of squares of the residuals. */
  squares: number;
  iterations: number;
  stop: Stop;
  converged: boolean;
}

export interface LeastSquaresOptions {
  /** Most iterations. */
  iterations?: number;
  /** Relative tolerances on the step, on the decrease of the sum of squares, and on the gradient. */
  tolerance?: number;
  /** Fills the m x n Jacobian of the residuals, row by row. Without it: central differences. */
  jacobian?: (parameters: Float64Array, into: Float64Array) => void;
  /** Typical size of each parameter, for difference steps where a parameter is near zero. */
  typical?: Float64Array;
}

/**
 * Least squares by Levenberg-Marquardt: the damped step is solved by Householder QR of the stacked matrix (never the
 * normal equations), columns are scaled by their largest norm so far, damping follows the gain ratio.
 *
 * @param residuals  writes the m residuals at `parameters` into `into`
 * @param start      n starting values, m >= n
 * Sources: Marquardt 1963, J. SIAM 11, 431; More 1978, Lecture Notes in Mathematics 630, 105 (scaling);
 * Nielsen 1999, IMM-REP-1999-05 (damping by gain ratio).
 */
export function leastSquares(
  residuals: (parameters: Float64Array, into: Float64Array) => void,
  start: Float64Array,
  m: number,
  options: LeastSquaresOptions = {},
): Fit {
  const n = start.length;
  const { iterations = 200, tolerance = 1e-10 } = options;
  let x = Float64Array.from(start);
  let r = new Float64Array(m);
  residuals(x, r);
  let squares = dot(r, r);
  const jacobian = new Float64Array(m * n);
  const fillJacobian = options.jacobian ?? differences(residuals, m, options.typical);
  const scale = new Float64Array(n);
  const work = { a: new Float64Array(m * n), b: new Float64Array(m) };
  let triangle: Triangle | undefined;
  let damping = 1e-3;
  let growth = 2;
  let stop: Stop = 'iterations';
  let count = 0;
  let trial = new Float64Array(m);
  const reduceHere = () => {
    fillJacobian(x, jacobian);
    const norms = columnNorms(jacobian, m, n);
    for (let j = 0; j < n; j += 1) scale[j] = Math.max(scale[j]!, norms[j]!, 1e-300);
    triangle = reduce(jacobian, r, scale, m, n, work);
  };

  if (!Number.isFinite(squares)) stop = 'not-finite';
  else {
    reduceHere();
    for (; count < iterations; count += 1) {
      if (!triangle) {
        stop = 'singular';
        break;
      }
      if (gradientSize(triangle, squares, n) < tolerance) {
        stop = 'gradient';
        break;
      }
      const damped = dampedStep(triangle, damping, n);
      if (!damped) {
        stop = 'singular';
        break;
      }
      const step = damped.step.map((value, j) => value / scale[j]!);
      const next = x.map((value, j) => value + step[j]!);
      residuals(next, trial);
      const nextSquares = dot(trial, trial);
      const gain = (squares - nextSquares) / damped.promised;
      const small = step.every((s, j) => Math.abs(s) <= tolerance * (Math.abs(x[j]!) + tolerance));
      if (Number.isFinite(nextSquares) && gain > 0) {
        const before = squares;
        x = next;
        [r, trial] = [trial, r];
        squares = nextSquares;
        reduceHere();
        damping = Math.max(1e-14, damping * Math.max(1 / 3, 1 - (2 * gain - 1) ** 3));
        growth = 2;
        const least = tolerance * tolerance * before;
        if (small) stop = 'step';
        else if (before - squares <= least && damped.promised <= least) stop = 'decrease';
        else continue;
        break;
      }
      damping *= growth;
      growth *= 2;
      if (small || damping > 1e20) {
        stop = 'step';
        break;
      }
    }
  }
  const sizes = x.map((value, j) => Math.max(Math.abs(value), Math.abs(start[j]!)));
  if (converged(stop) && lostInfluence(columnNorms(jacobian, m, n), scale, sizes, Math.sqrt(squares))) stop = 'flat';
  const unscaled = triangle ? inverseNormal(triangle, scale, n) : new Float64Array(n * n).fill(Infinity);
  const variance = m > n ? squares / (m - n) : 0;
  return {
    parameters: x,
    covariance: unscaled.map((value) => value * variance),
    unscaled,
    jacobian,
    residuals: r,
    squares,
    iterations: count,
    stop,
    converged: converged(stop),
  };
}

const converged = (stop: Stop) => stop === 'gradient' || stop === 'step' || stop === 'decrease';

/**
 * Whether some parameter has lost its influence on the way: it could change by its own size without moving the residuals
 * by a double's last digit, or its column is a trillionth of what it was.
 */
function lostInfluence(norms: Float64Array, largest: Float64Array, size: Float64Array, residual: number): boolean {
  return norms.some((norm, j) => norm * size[j]! < 1e-16 * residual || norm < 1e-12 * largest[j]!);
}

const dot = (a: Float64Array, b: Float64Array) => {
  let sum = 0;
  for (let i = 0; i < a.length; i += 1) sum += a[i]! * b[i]!;
  return sum;
};

function columnNorms(jacobian: Float64Array, m: number, n: number): Float64Array {
  const sums = new Float64Array(n);
  for (let i = 0; i < m; i += 1) for (let j = 0; j < n; j += 1) sums[j]! += jacobian[i * n + j]! ** 2;
  return sums.map(Math.sqrt);
}

/** Central differences; the step is the cube root of the machine's precision times the parameter's size. */
function differences(residuals: (x: Float64Array, into: Float64Array) => void, m: number, typical?: Float64Array) {
  const above = new Float64Array(m);
  const below = new Float64Array(m);
  return (x: Float64Array, into: Float64Array) => {
    const n = x.length;
    for (let j = 0; j < n; j += 1) {
      const h = 6.06e-6 * Math.max(Math.abs(x[j]!), typical?.[j] ?? 0) || 6.06e-6;
      const at = x[j]!;
      x[j] = at + h;
      residuals(x, above);
      const up = x[j]!;
      x[j] = at - h;
      residuals(x, below);
      const wide = up - x[j]!;
      x[j] = at;
      for (let i = 0; i < m; i += 1) into[i * n + j] = (above[i]! - below[i]!) / wide;
    }
  };
}

/** The scaled linear problem min |R y - q| at one place: R n x n upper triangle, row by row, q = -Q'r. */
interface Triangle {
  r: Float64Array;
  q: Float64Array;
}

/** Reduces J D^-1 and -r by Householder reflections, once for each place, whatever damping is tried there. */
function reduce(
  jacobian: Float64Array,
  residuals: Float64Array,
  scale: Float64Array,
  m: number,
  n: number,
  { a, b }: { a: Float64Array; b: Float64Array },
): Triangle | undefined {
  for (let i = 0; i < m; i += 1) {
    for (let j = 0; j < n; j += 1) a[i * n + j] = jacobian[i * n + j]! / scale[j]!;
    b[i] = -residuals[i]!;
  }
  return householder(a, b, m, n) ? { r: a.slice(0, n * n), q: b.slice(0, n) } : undefined;
}

/** Largest cosine between the residuals and a column: zero at a minimum, whatever the units. */
function gradientSize({ r, q }: Triangle, squares: number, n: number): number {
  let largest = 0;
  if (squares === 0) return 0;
  for (let j = 0; j < n; j += 1) {
    let sum = 0;
    let norm = 0;
    for (let i = 0; i <= j; i += 1) {
      sum += r[i * n + j]! * q[i]!;
      norm += r[i * n + j]! ** 2;
    }
    if (norm > 0) largest = Math.max(largest, Math.abs(sum) / Math.sqrt(norm * squares));
  }
  return largest;
}

/**
 * Solves min |R y - q|^2 + damping |y|^2 by Householder reflections of the stacked matrix, and says by how much the linear
 * model promises to lower the sum of squares; undefined when it has no answer.
 */
function dampedStep({ r, q }: Triangle, damping: number, n: number) {
  const a = new Float64Array(2 * n * n);
  const b = new Float64Array(2 * n);
  a.set(r);
  b.set(q);
  const root = Math.sqrt(damping);
  for (let j = 0; j < n; j += 1) a[(n + j) * n + j] = root;
  if (!householder(a, b, 2 * n, n)) return undefined;
  const step = backSubstitute(a, b, n);
  if (!step) return undefined;
  let promised = 0;
  for (let i = 0; i < n; i += 1) {
    let along = 0;
    for (let j = i; j < n; j += 1) along += r[i * n + j]! * step[j]!;
    // |q|^2 - |q - R y|^2, without the difference of two large numbers.
    promised += along * (2 * q[i]! - along);
  }
  return { step, promised };
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

/** (J'J)^-1 from the triangle of J D^-1; a column that says nothing beside the others gets an infinite variance. */
function inverseNormal({ r }: Triangle, scale: Float64Array, n: number): Float64Array {
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
