import { exp } from '../../numerics/elementary.ts';
import { createRandom, type Random } from '../../numerics/random.ts';
import type { CurveFit } from './fit-shape.ts';

/** Replicates of the fitted parameters: `count` vectors of `size`, one after the other. */
export interface Replicates {
  count: number;
  size: number;
  parameters: Float64Array;
}

/** How many replicates are drawn. */
export const replicateCount = 1000;

/**
 * Draws replicates of the fit by the dependent wild bootstrap: residuals are multiplied by a random sequence that
 * changes slowly in time, so that flicker keeps its correlation and each place keeps its own size of noise; each
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
  const { fit, whitenedResidual: innovation } = curve;
  const size = fit.parameters.length;
  const m = innovation.length;
  const random = createRandom(seed);
  const { jacobian, unscaled } = fit;
  const reachS = blockLength(correlationS);
  // Multipliers that forget in reachS see reachS / (reachS + T) of the variance that a correlation of time T adds.
  const forgotten = Math.sqrt(1 + correlationS / reachS);
  const local = localLeverage(jacobian, unscaled, times, size, reachS);
  // Influence of each reading on the parameters: -(J'J)^-1 J_k r_k; J is of the weighted residuals.
  const influence = new Float64Array(m * size);
  for (let k = 0; k < m; k += 1) {
    const r = (forgotten * innovation[k]!) / Math.sqrt(1 - Math.min(0.8, local[k]!));
    for (let i = 0; i < size; i += 1) {
      let sum = 0;
      for (let j = 0; j < size; j += 1) sum -= unscaled[i * size + j]! * jacobian[k * size + j]!;
      influence[k * size + i] = sum * r;
    }
  }
  // Rows of the Jacobian after the readings are prior knowledge: its own doubt (one deviation) is drawn as well, so that
  // what only the prior says does not look certain.
  const priors = jacobian.length / size - m;
  const priorInfluence = new Float64Array(priors * size);
  for (let k = 0; k < priors; k += 1)
    for (let i = 0; i < size; i += 1) {
      let sum = 0;
      for (let j = 0; j < size; j += 1) sum -= unscaled[i * size + j]! * jacobian[(m + k) * size + j]!;
      priorInfluence[k * size + i] = sum;
    }
  const parameters = new Float64Array(replicateCount * size);
  const step = new Float64Array(size);
  const redraw = correlatedMultipliers(times, reachS, random);
  const multipliers = new Float64Array(m);
  for (let b = 0; b < replicateCount; b += 1) {
    step.fill(0);
    redraw(multipliers);
    for (let k = 0; k < m; k += 1) {
      const multiplier = multipliers[k]!;
      for (let i = 0; i < size; i += 1) step[i]! += multiplier * influence[k * size + i]!;
    }
    for (let k = 0; k < priors; k += 1) {
      const draw = random.normal() * curve.priorScale[k]!;
      for (let i = 0; i < size; i += 1) step[i]! += draw * priorInfluence[k * size + i]!;
    }
    // One linear step says nothing sensible of a width that it would change a thousandfold, nor of softness.
    const { lowWidth, highWidth, softness } = curve.layout;
    for (const [at, most] of [[lowWidth, 4] as const, [highWidth, 4] as const, [softness, 1] as const])
      if (at >= 0) step[at] = Math.min(most, Math.max(-most, step[at]!));
    for (let i = 0; i < size; i += 1) parameters[b * size + i] = fit.parameters[i]! + step[i]!;
  }
  return { count: replicateCount, size, parameters };
}

/** Seconds over which multipliers stay alike, and that one independent stretch is taken to last: eight correlation times. */
export const blockLength = (correlationS: number): number => Math.max(2, 8 * correlationS);

/**
 * Draws the multipliers of the dependent wild bootstrap: standard normal, alike over `reachS` seconds.
 *
 * @param times  seconds, rising
 * @returns a function that fills an array of their length with a new draw
 */
export function correlatedMultipliers(
  times: Float64Array,
  reachS: number,
  random: Random,
): (into: Float64Array) => void {
  const kept = times.map((t, k) => (k > 0 ? exp(-(t - times[k - 1]!) / reachS) : 0));
  const fresh = kept.map((share) => Math.sqrt(1 - share ** 2));
  return (into) => {
    let multiplier = 0;
    for (let k = 0; k < into.length; k += 1) {
      multiplier = kept[k]! * multiplier + fresh[k]! * random.normal();
      into[k] = multiplier;
    }
  };
}

/** Sum of leverages within one correlation time around each reading: what the fit can adapt to there. */
function localLeverage(
  jacobian: Float64Array,
  unscaled: Float64Array,
  times: Float64Array,
  size: number,
  reachS: number,
) {
  const m = times.length;
  const sums = new Float64Array(m + 1);
  for (let k = 0; k < m; k += 1) {
    let h = 0;
    for (let i = 0; i < size; i += 1)
      for (let j = 0; j < size; j += 1)
        h += jacobian[k * size + i]! * unscaled[i * size + j]! * jacobian[k * size + j]!;
    sums[k + 1] = sums[k]! + (Number.isFinite(h) ? h : 0);
  }
  const local = new Float64Array(m);
  let from = 0;
  let to = 0;
  for (let k = 0; k < m; k += 1) {
    while (times[from]! < times[k]! - reachS) from += 1;
    while (to < m && times[to]! <= times[k]! + reachS) to += 1;
    local[k] = sums[to]! - sums[from]!;
  }
  return local;
}
