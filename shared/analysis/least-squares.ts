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
  let damping = 1e-3;
  let growth = 2;
  let stop: Stop = 'iterations';
  let count = 0;
  let trial = new Float64Array(m);

  const columnNorms = () => {
    for (let j = 0; j < n; j += 1) {
      let sum = 0;
      for (let i = 0; i < m; i += 1) sum += jacobian[i * n + j]! ** 2;
      scale[j] = Math.max(scale[j]!, Math.sqrt(sum), 1e-300);
    }
  };
  const gradientSize = () => {
    // Cosine between the residuals and each column: zero at a minimum, whatever the units.
    let largest = 0;
    const size = Math.sqrt(squares);
    if (size === 0) return 0;
    for (let j = 0; j < n; j += 1) {
      let sum = 0;
      let norm = 0;
      for (let i = 0; i < m; i += 1) {
        sum += jacobian[i * n + j]! * r[i]!;
        norm += jacobian[i * n + j]! ** 2;
      }
      if (norm > 0) largest = Math.max(largest, Math.abs(sum) / (Math.sqrt(norm) * size));
    }
    return largest;
  };

  if (!Number.isFinite(squares)) stop = 'not-finite';
  else {
    fillJacobian(x, jacobian);
    columnNorms();
    for (; count < iterations; count += 1) {
      if (gradientSize() < tolerance) {
        stop = 'gradient';
        break;
      }
      const step = dampedStep(jacobian, r, scale, damping, m, n);
      if (!step) {
        stop = 'singular';
        break;
      }
      const next = x.map((value, j) => value + step[j]!);
      residuals(next, trial);
      const nextSquares = dot(trial, trial);
      // What the linear model promises: |r|^2 - |r + J step|^2.
      let model = 0;
      for (let i = 0; i < m; i += 1) {
        let sum = r[i]!;
        for (let j = 0; j < n; j += 1) sum += jacobian[i * n + j]! * step[j]!;
        model += sum * sum;
      }
      const promised = squares - model;
      const gain = (squares - nextSquares) / promised;
      const small = step.every((s, j) => Math.abs(s) <= tolerance * (Math.abs(x[j]!) + tolerance));
      if (Number.isFinite(nextSquares) && gain > 0) {
        const decrease = squares - nextSquares;
        x = next;
        [r, trial] = [trial, r];
        const before = squares;
        squares = nextSquares;
        fillJacobian(x, jacobian);
        columnNorms();
        damping = Math.max(1e-14, damping * Math.max(1 / 3, 1 - (2 * gain - 1) ** 3));
        growth = 2;
        if (small) {
          stop = 'step';
          break;
        }
        if (decrease <= tolerance * tolerance * before && promised <= tolerance * tolerance * before) {
          stop = 'decrease';
          break;
        }
      } else {
        if (small) {
          stop = 'step';
          break;
        }
        damping *= growth;
        growth *= 2;
        if (damping > 1e20) {
          stop = 'step';
          break;
        }
      }
    }
  }
  const cameToRest = stop === 'gradient' || stop === 'step' || stop === 'decrease';
  const sizes = x.map((value, j) => Math.max(Math.abs(value), Math.abs(start[j]!)));
  if (cameToRest && lostInfluence(jacobian, sizes, Math.sqrt(squares), m, n)) stop = 'flat';
  // A parameter that has stopped to matter where the search ended was lost on the way: the rest is no answer.
  if (stop !== 'not-finite' && losesColumn(jacobian, scale, m, n)) stop = 'singular';
  const unscaled = inverseNormal(jacobian, m, n);
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
    converged: stop === 'gradient' || stop === 'step' || stop === 'decrease',
  };
}

/** Whether some parameter could change by its own size without moving the residuals by a double's last digit. */
function lostInfluence(jacobian: Float64Array, size: Float64Array, residual: number, m: number, n: number): boolean {
  for (let j = 0; j < n; j += 1) {
    let sum = 0;
    for (let i = 0; i < m; i += 1) sum += jacobian[i * n + j]! ** 2;
    if (Math.sqrt(sum) * size[j]! < 1e-16 * residual) return true;
  }
  return false;
}

function losesColumn(jacobian: Float64Array, scale: Float64Array, m: number, n: number): boolean {
  for (let j = 0; j < n; j += 1) {
    let sum = 0;
    for (let i = 0; i < m; i += 1) sum += jacobian[i * n + j]! ** 2;
    if (Math.sqrt(sum) < 1e-12 * scale[j]!) return true;
  }
  return false;
}

const dot = (a: Float64Array, b: Float64Array) => {
  let sum = 0;
  for (let i = 0; i < a.length; i += 1) sum += a[i]! * b[i]!;
  return sum;
};

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

/** Solves min |J s + r|^2 + damping |D s|^2 by Householder QR of the stacked matrix; undefined when it has no answer. */
function dampedStep(
  jacobian: Float64Array,
  r: Float64Array,
  scale: Float64Array,
  damping: number,
  m: number,
  n: number,
) {
  const rows = m + n;
  const a = new Float64Array(rows * n);
  const b = new Float64Array(rows);
  for (let i = 0; i < m; i += 1) {
    for (let j = 0; j < n; j += 1) a[i * n + j] = jacobian[i * n + j]! / scale[j]!;
    b[i] = -r[i]!;
  }
  const root = Math.sqrt(damping);
  for (let j = 0; j < n; j += 1) a[(m + j) * n + j] = root;
  if (!householder(a, b, rows, n)) return undefined;
  const y = backSubstitute(a, b, n);
  return y?.map((value, j) => value / scale[j]!);
}

/** Reduces `a` (rows x n, row by row) to upper triangle in place and applies the reflections to `b`. */
function householder(a: Float64Array, b: Float64Array, rows: number, n: number): boolean {
  for (let k = 0; k < n; k += 1) {
    let norm = 0;
    for (let i = k; i < rows; i += 1) norm += a[i * n + k]! ** 2;
    norm = Math.sqrt(norm);
    if (!Number.isFinite(norm)) return false;
    if (norm === 0) continue;
    const pivot = a[k * n + k]!;
    const alpha = pivot > 0 ? -norm : norm;
    const v0 = pivot - alpha;
    // The reflector is v = (v0, a[k+1..]) with |v|^2 = 2 norm (norm + |pivot|).
    const half = norm * (norm + Math.abs(pivot));
    for (let j = k + 1; j < n; j += 1) {
      let sum = v0 * a[k * n + j]!;
      for (let i = k + 1; i < rows; i += 1) sum += a[i * n + k]! * a[i * n + j]!;
      const factor = sum / half;
      a[k * n + j]! -= factor * v0;
      for (let i = k + 1; i < rows; i += 1) a[i * n + j]! -= factor * a[i * n + k]!;
    }
    let sum = v0 * b[k]!;
    for (let i = k + 1; i < rows; i += 1) sum += a[i * n + k]! * b[i]!;
    const factor = sum / half;
    b[k]! -= factor * v0;
    for (let i = k + 1; i < rows; i += 1) b[i]! -= factor * a[i * n + k]!;
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

/** (J'J)^-1 by QR of the column-scaled Jacobian; a column that says nothing gets an infinite variance. */
function inverseNormal(jacobian: Float64Array, m: number, n: number): Float64Array {
  const scale = new Float64Array(n);
  for (let j = 0; j < n; j += 1) {
    let sum = 0;
    for (let i = 0; i < m; i += 1) sum += jacobian[i * n + j]! ** 2;
    scale[j] = Math.sqrt(sum) || 1;
  }
  const a = new Float64Array(m * n);
  for (let i = 0; i < m; i += 1) for (let j = 0; j < n; j += 1) a[i * n + j] = jacobian[i * n + j]! / scale[j]!;
  householder(a, new Float64Array(m), m, n);
  const inverse = new Float64Array(n * n); // of R, upper
  for (let column = 0; column < n; column += 1) {
    const e = new Float64Array(n);
    e[column] = 1;
    for (let k = column; k >= 0; k -= 1) {
      let sum = e[k]!;
      for (let j = k + 1; j <= column; j += 1) sum -= a[k * n + j]! * inverse[j * n + column]!;
      const pivot = a[k * n + k]!;
      inverse[k * n + column] = Math.abs(pivot) < 1e-14 ? Infinity : sum / pivot;
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
