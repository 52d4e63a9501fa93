import { mean, quantile } from '../../numerics/descriptive.ts';
import { exp, log } from '../../numerics/elementary.ts';
import { huberWeight, robustDeviation } from '../../numerics/robust.ts';
import type { MeterRange } from '../sweep/meter-faults/meter-range.ts';
import type { InitialEstimates } from '../sweep/series/initial-estimates.ts';
import type { Layout } from './model/shape.ts';

/** Expected deviation of the signal: a floor everywhere, and what flicker and a steep shoulder add half way down. */
interface Noise {
  floor: number;
  shoulder: number;
}

/** The levels between which flicker grows and shrinks again, and the last digit of the meter; in the signal's unit. */
export interface SignalLevels {
  dark: number;
  plateau: number;
  clip: number;
  digit: number;
}

/**
 * The levels at parameters `x`. Above a clip or the top of the meter's range the flame goes on, and flickers as it does half way down;
 * only the amplifier or the meter shows nothing of it.
 */
export function levelsOf(x: Float64Array, layout: Layout, initial: InitialEstimates, range: MeterRange): SignalLevels {
  const { plateau, digit } = initial;
  const dark = range.bottom === undefined || layout.dark < 0 ? initial.dark : Math.min(initial.dark, x[layout.dark]!);
  const clip = layout.clip < 0 ? Infinity : x[layout.clip]!;
  if (layout.clip < 0 && range.top === undefined) return { dark, plateau, digit, clip };
  const flame = dark + x[layout.amplitude]!;
  return { dark, plateau: Math.min(2 * plateau, Math.max(plateau, flame)), digit, clip };
}

/** Within a five-hundredth of the clip a level counts as clipped: what is cut off there is most of the flicker. */
const isClipped = (predicted: number, clip: number): boolean => predicted >= clip - 2e-3 * Math.abs(clip);

/**
 * Centers the residuals at a clip on their own mean, in place: noise that is cut off at the top has a mean below the level,
 * which would pass for correlation.
 *
 * @param standardized  residuals divided by their deviation
 * @param clip          level of the clip, unit of `predicted`
 */
export function centerClipped(standardized: Float64Array, predicted: Float64Array, clip: number): void {
  const atClip = (_: number, i: number) => isClipped(predicted[i]!, clip);
  const middle = mean(standardized.filter(atClip));
  standardized.forEach((value, i) => {
    if (atClip(value, i)) standardized[i] = value - middle;
  });
}

/** How much of the flicker shows at a level: 0 on the plateau and in the dark, 1 half way down a shoulder. */
const shoulderWeight = (predicted: number, { dark, plateau, clip }: SignalLevels): number => {
  if (isClipped(predicted, clip)) return 0;
  const share = Math.min(1, Math.max(0, (predicted - dark) / (plateau - dark || 1)));
  return 4 * share * (1 - share);
};

/** Part of normal values that lie no farther below their mean than a standard deviation, or above it. */
const withinOneBelow = 0.841_344_746_068_543;

/**
 * Standard deviation of normal noise that is cut off at its mean, as at a clip: most residuals are nothing then, which says nothing of
 * the others.
 */
const deviationCutAtTop = (residual: Float64Array): number =>
  quantile(
    residual.map((value) => Math.abs(value)),
    withinOneBelow,
  );

/** Splits the scatter into its two parts: robustly on the plateau, then by moments on the shoulders. NaN is no residual. */
function noiseOf(all: Float64Array, atAll: Float64Array, levels: SignalLevels): Noise {
  const isKnown = (_: number, i: number) => !Number.isNaN(all[i]!);
  const [residual, predicted] = [all.filter(isKnown), atAll.filter(isKnown)];
  const flat = residual.filter((_, i) => shoulderWeight(predicted[i]!, levels) < 0.2);
  const deviationOf = Number.isFinite(levels.clip)
    ? deviationCutAtTop
    : (some: Float64Array) => robustDeviation(some, 0);
  const floor = Math.max(
    flat.length > 10 ? deviationOf(flat) : robustDeviation(residual, 0),
    2e-4 * Math.abs(levels.plateau),
    // However often a meter repeats its digit, it is known to a rectangle of that width only (GUM F.2.2.1).
    levels.digit / Math.sqrt(12),
    1e-12,
  );
  let numerator = 0;
  let denominator = 0;
  residual.forEach((value, i) => {
    const weight = shoulderWeight(predicted[i]!, levels) ** 2;
    // Bounded, so that a single outlier does not set the size of all.
    numerator += weight * (Math.min(value * value, (0.3 * (levels.plateau - levels.dark)) ** 2) - floor * floor);
    denominator += weight * weight;
  });
  return { floor, shoulder: denominator > 0.5 ? Math.sqrt(Math.max(0, numerator / denominator)) : 0 };
}

const expectedDeviation = (noise: Noise, predicted: number, levels: SignalLevels): number =>
  Math.hypot(noise.floor, noise.shoulder * shoulderWeight(predicted, levels));

/** How noisy each reading is expected to be, and how its noise is correlated with that of the reading before. */
export interface NoiseModel {
  /** 1 / expected deviation, times the root of the Huber weight beyond 2.5 deviations. */
  weight: Float64Array;
  /** Autocorrelation coefficient of each reading's noise with that of the reading before; 0 for the first. */
  autocorrelation: Float64Array;
}

/** Huber's weight falls from this many deviations on, where one normal reading in eighty lies. */
const huberThreshold = 2.5;

/**
 * Longest correlation time of flicker, seconds: what wanders more slowly is a curve that does not follow, not a flame that
 * flickers.
 */
const longestFlickerS = 1.5;

/**
 * Noise of each reading from the residuals of a fit. The correlation of flicker, once it has gone through detector and
 * amplifier, decays exponentially with time; on the plateau and in the dark the meter's own noise outweighs it and is white.
 *
 * @param residual, predicted  in the signal's unit, one for each time; a residual of NaN says nothing of the noise
 * @param times                seconds, rising
 */
export function noiseModelOf(
  residual: Float64Array,
  predicted: Float64Array,
  times: Float64Array,
  levels: SignalLevels,
): NoiseModel {
  const noise = noiseOf(residual, predicted, levels);
  const deviation = predicted.map((value) => expectedDeviation(noise, value, levels));
  const isKnown = residual.map((value) => Number(!Number.isNaN(value)));
  const known = residual.map((value, i) => (isKnown[i] === 1 ? value : 0));
  const robustWeight = known.map((value, i) => huberWeight(Math.abs(value) / deviation[i]!, huberThreshold));
  const flicker = predicted.map(
    (value, i) => (isKnown[i]! * robustWeight[i]! * noise.shoulder * shoulderWeight(value, levels)) / deviation[i]!,
  );
  const correlationS = flickerCorrelationTime(
    known.map((value, i) => (flicker[i]! * value) / deviation[i]!),
    flicker,
    times,
  );
  const autocorrelation = flicker.map((share, i) =>
    i > 0 && correlationS > 0 ? exp(-(times[i]! - times[i - 1]!) / correlationS) * share * flicker[i - 1]! : 0,
  );
  return { weight: robustWeight.map((value, i) => Math.sqrt(value) / deviation[i]!), autocorrelation };
}

/** Seconds in which the flicker's correlation falls to 1/e, from neighboring residuals; 0 when there is none. */
function flickerCorrelationTime(standardized: Float64Array, share: Float64Array, times: Float64Array): number {
  let product = 0;
  let expected = 0;
  let seconds = 0;
  for (let i = 1; i < times.length; i += 1) {
    const size = (share[i]! * share[i - 1]!) ** 2;
    product += standardized[i]! * standardized[i - 1]!;
    expected += size;
    seconds += size * (times[i]! - times[i - 1]!);
  }
  const correlation = product / expected;
  if (!(expected > 5) || correlation <= 0.02) return 0;
  if (correlation >= 0.98) return longestFlickerS;
  return Math.min(longestFlickerS, -seconds / expected / log(correlation));
}

/**
 * Takes out of each row what it shares with the row before, so that what is left is uncorrelated; the first row stays.
 * Source: Prais and Winsten 1954, Cowles Commission discussion paper 383 (first-order autocorrelation; the differences'
 * scale keeps the variance).
 *
 * @param rows             as many as `autocorrelation` has entries, `columns` numbers each, already divided by their deviation;
 *                         changed in place
 * @param autocorrelation  coefficient of each row with the row before, above -1 and below 1
 */
export function whiten(rows: Float64Array, columns: number, autocorrelation: Float64Array): void {
  for (let i = autocorrelation.length - 1; i > 0; i -= 1) {
    const coefficient = autocorrelation[i]!;
    if (coefficient === 0) continue;
    const scale = 1 / Math.sqrt(1 - coefficient * coefficient);
    for (let j = 0; j < columns; j += 1)
      rows[i * columns + j] = (rows[i * columns + j]! - coefficient * rows[(i - 1) * columns + j]!) * scale;
  }
}

/**
 * -2 log likelihood per reading of normal noise whose size follows the shoulder weight; its correlation is left aside.
 * Bounded at 5 deviations, so that outliers do not choose the model.
 *
 * @param residual, predicted  in the signal's unit, same length; a residual of NaN is left out
 */
export function devianceOf(residual: Float64Array, predicted: Float64Array, levels: SignalLevels): number {
  const noise = noiseOf(residual, predicted, levels);
  let deviance = 0;
  residual.forEach((value, i) => {
    if (Number.isNaN(value)) return;
    const deviation = expectedDeviation(noise, predicted[i]!, levels);
    const bounded = Math.min(Math.abs(value) / deviation, 5);
    deviance += bounded * bounded + 2 * log(deviation);
  });
  return deviance / residual.length;
}
