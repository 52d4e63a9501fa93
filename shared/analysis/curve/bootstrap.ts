import { exp } from '../../numerics/elementary.ts';
import { createRandom, type Random } from '../../numerics/random.ts';
import type { Fit } from '../../numerics/linear/least-squares.ts';
import { effectiveParameters, leverageOf } from './effective-sample-size.ts';
import type { CurveFit } from './fit-shape.ts';

/** Replicates of the fitted parameters: `count` vectors of `size`, one after the other. */
export interface Replicates {
  count: number;
  size: number;
  parameters: Float64Array;
  /** What noise of the fitted size and correlation leaves of the parameters: `size` x `size`, row by row. */
  covariance: Float64Array;
}

/** One parameter in every replicate. */
export const replicatesOf = ({ count, size, parameters }: Replicates, parameter: number): Float64Array =>
  Float64Array.from({ length: count }, (_, b) => parameters[b * size + parameter]!);

/** How many replicates are drawn: the 2.5 % points of a thousand rest on 25 of them. */
export const replicateCount = 1000;

/** So many replicates are summed up at once, since reading the influences takes longer than multiplying them. */
const atOnce = 4;

/** Readings closer together than this share of a block have one multiplier: that of neighbors differs by less than their number costs. */
const runShare = 1 / 4;

/** Leverage beyond this is not corrected for: residuals there would be enlarged without bound. */
const maxLeverage = 0.8;

/**
 * Draws replicates of the fit by the dependent wild bootstrap: residuals are multiplied by a random sequence that
 * changes slowly in time, so that flicker keeps its correlation and each level keeps its own size of noise; each
 * replicate is one Gauss-Newton step from the fit.
 *
 * Residuals are enlarged for what the fit took out of them locally. Deterministic for a seed.
 * Sources: Shao 2010, JASA 105, 218 (dependent wild bootstrap); MacKinnon and White 1985, J. Econometrics 29, 305
 * (leverage correction); Davidson and MacKinnon 1999, Int. Economic Review 40, 487 (one-step replicates).
 *
 * @param times         seconds of the readings, rising
 * @param correlationS  seconds in which the residuals' correlation falls to 1/e
 */
export function bootstrap(curve: CurveFit, times: Float64Array, correlationS: number, seed: number): Replicates {
  const { fit, whitenedResidual, layout, priorScale } = curve;
  const size = fit.parameters.length;
  const m = whitenedResidual.length;
  const random = createRandom(seed);
  const { jacobian, unscaled } = fit;
  const blockS = blockLength(correlationS);
  // Multipliers whose correlation decays in blockS see blockS / (blockS + T) of the variance that a correlation of time T adds.
  const lost = Math.sqrt(1 + correlationS / blockS);
  const leverage = localLeverage(fit, times, blockS);
  // Influence of row k of the Jacobian on the parameters: -(J'J)^-1 J_k, times its residual; J is of the weighted residuals.
  const addInfluence = (k: number, residual: number, into: Float64Array, row: number) => {
    for (let i = 0; i < size; i += 1) {
      let sum = 0;
      for (let j = 0; j < size; j += 1) sum -= unscaled[i * size + j]! * jacobian[k * size + j]!;
      into[row * size + i]! += sum * residual;
    }
  };
  // Rows of the Jacobian after the readings are priors: their own uncertainty (one deviation) is drawn as well, so that what
  // only the prior says does not look exact.
  const priors = jacobian.length / size - m;
  const { runOf, middles } = runsOf(times, runShare * blockS);
  const runs = middles.length;
  const influence = new Float64Array((runs + priors) * size);
  for (let k = 0; k < m; k += 1) {
    const residual = (lost * whitenedResidual[k]!) / Math.sqrt(1 - Math.min(maxLeverage, leverage[k]!));
    addInfluence(k, residual, influence, runOf[k]!);
  }
  for (let k = 0; k < priors; k += 1) addInfluence(m + k, 1, influence, runs + k);

  const parameters = new Float64Array(replicateCount * size);
  const draw = correlatedMultipliers(middles, blockS, random);
  const multipliers = Array.from({ length: atOnce }, () => new Float64Array(runs + priors));
  // One linear step means nothing for a width that it would change a thousandfold, nor for softness.
  const limits = [
    [layout.lowWidth, 4],
    [layout.highWidth, 4],
    [layout.softness, 1],
  ] as const;
  for (let b = 0; b < replicateCount; b += atOnce) {
    for (const each of multipliers) {
      draw(each.subarray(0, runs));
      for (let k = 0; k < priors; k += 1) each[runs + k] = random.normal() * priorScale[k]!;
    }
    const steps = parameters.subarray(b * size, (b + atOnce) * size);
    sumInfluences(influence, multipliers, size, steps);
    for (let at = 0; at < steps.length; at += size) {
      for (const [of, most] of limits) if (of >= 0) steps[at + of] = Math.min(most, Math.max(-most, steps[at + of]!));
      for (let i = 0; i < size; i += 1) steps[at + i]! += fit.parameters[i]!;
    }
  }
  return { count: replicateCount, size, parameters, covariance: noiseCovariance(curve, times, correlationS) };
}

/**
 * Divides readings into runs that last no longer than `lengthS`. A multiplier for each run, correlated over the run's own distance, has the
 * correlation of one for each reading but for a straight line between multiples of that length: it is less than a hundredth too high.
 *
 * @returns for each reading its run, and the middle of each run, seconds
 */
export function runsOf(times: Float64Array, lengthS: number): { runOf: Int32Array; middles: Float64Array } {
  const runOf = new Int32Array(times.length);
  const middles: number[] = [];
  let from = 0;
  for (let k = 0; k < times.length; k += 1) {
    if (times[k]! - times[from]! >= lengthS) from = k;
    if (from === k) middles.push(0);
    runOf[k] = middles.length - 1;
    middles[middles.length - 1] = (times[from]! + times[k]!) / 2;
  }
  return { runOf, middles: Float64Array.from(middles) };
}

/**
 * Sums of the influences, rows of `size`, times the multipliers of four replicates.
 *
 * @param steps  filled with one sum after the other
 */
function sumInfluences(
  influence: Float64Array,
  [one, two, three, four]: readonly Float64Array[],
  size: number,
  steps: Float64Array,
): void {
  for (let k = 0; k < one!.length; k += 1) {
    const a = one![k]!;
    const b = two![k]!;
    const c = three![k]!;
    const d = four![k]!;
    for (let i = 0; i < size; i += 1) {
      const value = influence[k * size + i]!;
      steps[i]! += a * value;
      steps[size + i]! += b * value;
      steps[2 * size + i]! += c * value;
      steps[3 * size + i]! += d * value;
    }
  }
}

/**
 * Covariance of the parameters by the noise model: that of the weighted fit, times the variance of its residuals and the inflation by
 * what correlation is left in them.
 * Source: Aitken 1935, Proc. Royal Soc. Edinburgh 55, 42.
 */
function noiseCovariance(curve: CurveFit, times: Float64Array, correlationS: number): Float64Array {
  const { fit } = curve;
  const m = times.length;
  const stepS = (times[m - 1]! - times[0]!) / (m - 1);
  // An exponential correlation of time T inflates the variance 2 T / step times.
  const inflation = Math.max(1, (2 * correlationS) / stepS);
  const variance = fit.rss / Math.max(1, m - effectiveParameters(curve));
  return fit.unscaled.map((value) => value * variance * inflation);
}

/**
 * Block length of the bootstrap in seconds: over so long multipliers stay correlated, and so long one independent block of
 * readings is taken to last. Eight correlation times, after which the correlation has decayed to e^-8; at least two seconds.
 *
 * @param correlationS  seconds in which the residuals' correlation falls to 1/e
 */
export const blockLength = (correlationS: number): number => Math.max(2, 8 * correlationS);

/**
 * Draws the multipliers of the dependent wild bootstrap: standard normal, with an exponential correlation of time `blockS`.
 *
 * @param times  seconds, rising
 * @returns a function that fills an array of their length with a new draw
 */
export function correlatedMultipliers(
  times: Float64Array,
  blockS: number,
  random: Random,
): (into: Float64Array) => void {
  const correlation = times.map((t, k) => (k > 0 ? exp(-(t - times[k - 1]!) / blockS) : 0));
  const fresh = correlation.map((share) => Math.sqrt(1 - share ** 2));
  return (into) => {
    let multiplier = 0;
    for (let k = 0; k < into.length; k += 1) {
      multiplier = correlation[k]! * multiplier + fresh[k]! * random.normal();
      into[k] = multiplier;
    }
  };
}

/** Sum of leverages within one block length around each reading: what the fit can adapt to there. */
function localLeverage(fit: Fit, times: Float64Array, blockS: number): Float64Array {
  const m = times.length;
  const sums = new Float64Array(m + 1);
  for (let k = 0; k < m; k += 1) sums[k + 1] = sums[k]! + leverageOf(fit, k);
  const local = new Float64Array(m);
  let from = 0;
  let to = 0;
  for (let k = 0; k < m; k += 1) {
    while (times[from]! < times[k]! - blockS) from += 1;
    while (to < m && times[to]! <= times[k]! + blockS) to += 1;
    local[k] = sums[to]! - sums[from]!;
  }
  return local;
}
