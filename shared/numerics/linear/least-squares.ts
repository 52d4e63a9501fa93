import { columnNorms, dampedStep, dot, gradientSize, inverseNormal, qr, type QrFactor } from './qr.ts';

/**
 * Why the search ended. Only the first three are answers. `flat`: it came to rest where a parameter has lost its influence
 * altogether, so that it is no minimum of the problem as it was posed.
 */
export type Stop = 'gradient' | 'step' | 'decrease' | 'flat' | 'iterations' | 'singular' | 'not-finite';

/** The parameters at which a search ended, n of them, with what is known there of the m residuals. */
export interface Fit {
  parameters: Float64Array;
  /** n x n, row by row: (J'J)^-1 times the residual variance; residuals are expected weighted. */
  covariance: Float64Array;
  /** (J'J)^-1 without the variance. */
  unscaled: Float64Array;
  /** Of the residuals: m x n, row by row, at the parameters. */
  jacobian: Float64Array;
  residuals: Float64Array;
  /** Residual sum of squares. */
  rss: number;
  iterations: number;
  stop: Stop;
  converged: boolean;
}

/** Options of `leastSquares`; every one has a default. */
export interface LeastSquaresOptions {
  /** Most iterations; 200 when absent. */
  iterations?: number;
  /** Relative tolerance on the step, on the decrease of the residual sum of squares, and on the gradient; 1e-10 when absent. */
  tolerance?: number;
  /** Fills the m x n Jacobian of the residuals, row by row. Without it: central differences. */
  jacobian?: (parameters: Float64Array, into: Float64Array) => void;
  /** Typical size of each parameter, for difference steps where a parameter is near zero. */
  typical?: Float64Array;
}

/**
 * Least squares by Levenberg-Marquardt: the damped step is solved by Householder QR of the stacked matrix (never the
 * normal equations), columns are scaled by their largest norm so far, damping follows the gain ratio. Never throws: `stop` says
 * why a search without an answer ended.
 *
 * @param residuals  writes the m residuals at `parameters` into `into`
 * @param start      n starting values
 * @param m          number of residuals, at least n
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
  let rss = dot(r, r);
  const jacobian = new Float64Array(m * n);
  const fillJacobian = options.jacobian ?? differences(residuals, m, options.typical);
  const scale = new Float64Array(n);
  const workspace = { a: new Float64Array(m * n), b: new Float64Array(m) };
  let factor: QrFactor | undefined;
  let damping = 1e-3;
  let dampingGrowth = 2;
  let stop: Stop = 'iterations';
  let count = 0;
  let trialResiduals = new Float64Array(m);
  const factorize = () => {
    fillJacobian(x, jacobian);
    const norms = columnNorms(jacobian, m, n);
    for (let j = 0; j < n; j += 1) scale[j] = Math.max(scale[j]!, norms[j]!, 1e-300);
    factor = qr(jacobian, r, scale, m, n, workspace);
  };

  if (!Number.isFinite(rss)) stop = 'not-finite';
  else {
    factorize();
    for (; count < iterations; count += 1) {
      if (!factor) {
        stop = 'singular';
        break;
      }
      if (gradientSize(factor, rss, n) < tolerance) {
        stop = 'gradient';
        break;
      }
      const damped = dampedStep(factor, damping, n);
      if (!damped) {
        stop = 'singular';
        break;
      }
      const step = damped.step.map((value, j) => value / scale[j]!);
      const next = x.map((value, j) => value + step[j]!);
      residuals(next, trialResiduals);
      const nextRss = dot(trialResiduals, trialResiduals);
      const gain = (rss - nextRss) / damped.predictedReduction;
      const small = step.every((s, j) => Math.abs(s) <= tolerance * (Math.abs(x[j]!) + tolerance));
      if (Number.isFinite(nextRss) && gain > 0) {
        const before = rss;
        x = next;
        [r, trialResiduals] = [trialResiduals, r];
        rss = nextRss;
        factorize();
        damping = Math.max(1e-14, damping * Math.max(1 / 3, 1 - (2 * gain - 1) ** 3));
        dampingGrowth = 2;
        const least = tolerance * tolerance * before;
        if (small) stop = 'step';
        else if (before - rss <= least && damped.predictedReduction <= least) stop = 'decrease';
        else continue;
        break;
      }
      damping *= dampingGrowth;
      dampingGrowth *= 2;
      if (small || damping > 1e20) {
        stop = 'step';
        break;
      }
    }
  }
  const sizes = x.map((value, j) => Math.max(Math.abs(value), Math.abs(start[j]!)));
  if (converged(stop) && lostInfluence(columnNorms(jacobian, m, n), scale, sizes, Math.sqrt(rss))) stop = 'flat';
  const unscaled = factor ? inverseNormal(factor, scale, n) : new Float64Array(n * n).fill(Infinity);
  const variance = m > n ? rss / (m - n) : 0;
  return {
    parameters: x,
    covariance: unscaled.map((value) => value * variance),
    unscaled,
    jacobian,
    residuals: r,
    rss,
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

/** Jacobian by central differences; the step is the cube root of the machine's precision times the parameter's size. */
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
      const width = up - x[j]!;
      x[j] = at;
      for (let i = 0; i < m; i += 1) into[i * n + j] = (above[i]! - below[i]!) / width;
    }
  };
}
