import { mean } from '../../numerics/descriptive.ts';
import { exp, log } from '../../numerics/elementary.ts';
import { huberWeight, robustDeviation } from '../../numerics/robust.ts';
import type { Layout } from './shape.ts';
import type { InitialEstimates } from '../sweep/initial-estimates.ts';

/** Expected deviation of the signal: a floor everywhere, and what flicker and a steep shoulder add half way down. */
interface Noise {
  floor: number;
  shoulder: number;
}

/** Noise cut off at a top has a mean below it; that is no slow wandering, so it must not pass for correlation. */
export function centerClipped(standard: Float64Array, predicted: Float64Array, clip: number): void {
  const atClip = (_: number, i: number) => isClipped(predicted[i]!, clip);
  const clipped = standard.filter(atClip);
  const middle = mean(clipped);
  standard.forEach((value, i) => {
    if (atClip(value, i)) standard[i] = value - middle;
  });
}

/** The levels between which flicker grows and shrinks again, and the last digit of the meter; in the signal's unit. */
interface Levels {
  dark: number;
  plateau: number;
  clip: number;
  digit: number;
}

/** Above a clip the flame goes on, and flickers as it does half way down; only the amplifier shows nothing of it. */
export function levelsOf(x: Float64Array, layout: Layout, look: InitialEstimates): Levels {
  const { dark, plateau, digit } = look;
  if (layout.clip < 0) return { dark, plateau, digit, clip: Infinity };
  const flame = dark + x[layout.amplitude]!;
  return { dark, plateau: Math.min(2 * plateau, Math.max(plateau, flame)), digit, clip: x[layout.clip]! };
}

const isClipped = (predicted: number, clip: number): boolean => predicted >= clip - 2e-3 * Math.abs(clip);

/** 0 on the plateau and in the dark, 1 half way down. */
const shoulderWeight = (predicted: number, { dark, plateau, clip }: Levels) => {
  if (isClipped(predicted, clip)) return 0;
  const share = Math.min(1, Math.max(0, (predicted - dark) / (plateau - dark || 1)));
  return 4 * share * (1 - share);
};

/** Splits the scatter into its two parts: robustly on the plateau, then by moments on the shoulders. */
function noiseOf(residual: Float64Array, predicted: Float64Array, levels: Levels): Noise {
  const flat = residual.filter((_, i) => shoulderWeight(predicted[i]!, levels) < 0.2);
  const floor = Math.max(
    flat.length > 10 ? robustDeviation(flat, 0) : robustDeviation(residual, 0),
    2e-4 * Math.abs(levels.plateau),
    // A meter that rounds is never surer than its digit, however often it repeats it (rectangle, GUM F.2.2.1).
    levels.digit / Math.sqrt(12),
    1e-12,
  );
  let top = 0;
  let bottom = 0;
  residual.forEach((value, i) => {
    const s = shoulderWeight(predicted[i]!, levels) ** 2;
    // A single wild reading must not set the size of all.
    top += s * (Math.min(value * value, (0.3 * (levels.plateau - levels.dark)) ** 2) - floor * floor);
    bottom += s * s;
  });
  return { floor, shoulder: bottom > 0.5 ? Math.sqrt(Math.max(0, top / bottom)) : 0 };
}

const expectedDeviation = (noise: Noise, predicted: number, levels: Levels) =>
  Math.hypot(noise.floor, noise.shoulder * shoulderWeight(predicted, levels));

/** How noisy each reading is expected to be, and how much of its neighbour's noise it still holds. */
export interface NoiseModel {
  /** 1 / expected deviation, times the Huber weight's root beyond 2.5 deviations. */
  weight: Float64Array;
  /** Correlation of each reading's noise with that of the reading before; 0 for the first. */
  carried: Float64Array;
}

/** Longest memory of flicker that is believed, seconds: a slower wandering is not the flame's flicker but a curve that does not follow. */
const longestCorrelationS = 1.5;

/**
 * Noise of each reading from the residuals of a fit. Flicker, once it has gone through detector and amplifier, fades
 * exponentially with time; on the plateau and in the dark the meter's own noise outweighs it and has no memory.
 */
export function noiseModelOf(
  residual: Float64Array,
  predicted: Float64Array,
  times: Float64Array,
  levels: Levels,
): NoiseModel {
  const noise = noiseOf(residual, predicted, levels);
  const deviation = predicted.map((value) => expectedDeviation(noise, value, levels));
  const trust = residual.map((value, i) => huberWeight(Math.abs(value) / deviation[i]!, 2.5));
  const flicker = predicted.map(
    (value, i) => (trust[i]! * noise.shoulder * shoulderWeight(value, levels)) / deviation[i]!,
  );
  const correlationS = flickerCorrelationTime(
    residual.map((value, i) => (flicker[i]! * value) / deviation[i]!),
    flicker,
    times,
  );
  const autocorrelation = flicker.map((share, i) =>
    i > 0 && correlationS > 0 ? exp(-(times[i]! - times[i - 1]!) / correlationS) * share * flicker[i - 1]! : 0,
  );
  return { weight: trust.map((value, i) => Math.sqrt(value) / deviation[i]!), carried: autocorrelation };
}

/** Seconds in which the flicker's correlation falls to 1/e, from neighbouring residuals. */
function flickerCorrelationTime(standard: Float64Array, share: Float64Array, times: Float64Array): number {
  let product = 0;
  let expected = 0;
  let seconds = 0;
  for (let i = 1; i < times.length; i += 1) {
    const size = (share[i]! * share[i - 1]!) ** 2;
    product += standard[i]! * standard[i - 1]!;
    expected += size;
    seconds += size * (times[i]! - times[i - 1]!);
  }
  const correlation = product / expected;
  if (!(expected > 5) || correlation <= 0.02) return 0;
  if (correlation >= 0.98) return longestCorrelationS;
  return Math.min(longestCorrelationS, -seconds / expected / log(correlation));
}

/**
 * Takes out of each row what it shares with the row before, so that what is left is independent; the first row stays.
 * Source: Prais and Winsten 1954, Cowles Commission discussion paper 383 (first-order autocorrelation; the differences'
 * scale keeps the variance).
 *
 * @param rows  as many as `carried` has entries, `columns` numbers each, already divided by their deviation; changed in place
 */
export function whiten(rows: Float64Array, columns: number, carried: Float64Array): void {
  for (let i = carried.length - 1; i > 0; i -= 1) {
    const share = carried[i]!;
    if (share === 0) continue;
    const scale = 1 / Math.sqrt(1 - share * share);
    for (let j = 0; j < columns; j += 1)
      rows[i * columns + j] = (rows[i * columns + j]! - share * rows[(i - 1) * columns + j]!) * scale;
  }
}

/** -2 log likelihood per reading of a normal noise whose size follows the shoulder; its memory is left aside. */
export function devianceOf(residual: Float64Array, predicted: Float64Array, levels: Levels): number {
  const noise = noiseOf(residual, predicted, levels);
  let deviance = 0;
  residual.forEach((value, i) => {
    const deviation = expectedDeviation(noise, predicted[i]!, levels);
    // Bounded like the weights, so that outliers do not choose the model.
    const far = Math.min(Math.abs(value) / deviation, 5);
    deviance += far * far + 2 * log(deviation);
  });
  return deviance / residual.length;
}
