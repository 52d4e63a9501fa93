import { log } from '../model/elementary.ts';
import type { Layout } from './curve-model.ts';
import type { FirstLook } from './first-look.ts';
import { mean } from './moments.ts';
import { huberWeight, robustDeviation } from './robust.ts';
import type { Series } from './series.ts';

/** Expected deviation of the signal: a floor everywhere, and what flicker and a steep shoulder add half way down. */
interface Noise {
  floor: number;
  shoulder: number;
}

/** Noise cut off at a top has a mean below it; that is no slow wandering, so it must not pass for correlation. */
export function centreClipped(standard: Float64Array, predicted: Float64Array, clip: number): void {
  const atClip = (_: number, i: number) => isClipped(predicted[i]!, clip);
  const clipped = standard.filter(atClip);
  const middle = mean(clipped);
  standard.forEach((value, i) => {
    if (atClip(value, i)) standard[i] = value - middle;
  });
}

/** Size of the noise before anything is fitted: from differences of neighbours. */
export function roughNoise(signal: Series): number {
  const steps = new Float64Array(signal.value.length - 1);
  for (let i = 0; i < steps.length; i += 1) steps[i] = (signal.value[i + 1]! - signal.value[i]!) / Math.SQRT2;
  let largest = 0;
  for (const value of signal.value) largest = Math.max(largest, Math.abs(value));
  return Math.max(robustDeviation(steps), 1e-3 * largest, 1e-9);
}

/** The levels between which flicker grows and shrinks again, and the last digit of the meter; in the signal's unit. */
interface Levels {
  dark: number;
  plateau: number;
  clip: number;
  digit: number;
}

/** Above a clip the flame goes on, and flickers as it does half way down; only the amplifier shows nothing of it. */
export function levelsOf(x: Float64Array, layout: Layout, look: FirstLook): Levels {
  const { dark, plateau, digit } = look;
  if (layout.clip < 0) return { dark, plateau, digit, clip: Infinity };
  const flame = dark + x[layout.amplitude]!;
  return { dark, plateau: Math.min(2 * plateau, Math.max(plateau, flame)), digit, clip: x[layout.clip]! };
}

const isClipped = (predicted: number, clip: number): boolean => predicted >= clip - 2e-3 * Math.abs(clip);

/** 0 on the plateau and in the dark, 1 half way down. */
const shoulderness = (predicted: number, { dark, plateau, clip }: Levels) => {
  if (isClipped(predicted, clip)) return 0;
  const share = Math.min(1, Math.max(0, (predicted - dark) / (plateau - dark || 1)));
  return 4 * share * (1 - share);
};

/** Splits the scatter into its two parts: robustly on the plateau, then by moments on the shoulders. */
function noiseOf(residual: Float64Array, predicted: Float64Array, levels: Levels): Noise {
  const flat = residual.filter((_, i) => shoulderness(predicted[i]!, levels) < 0.2);
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
    const s = shoulderness(predicted[i]!, levels) ** 2;
    // A single wild reading must not set the size of all.
    top += s * (Math.min(value * value, (0.3 * (levels.plateau - levels.dark)) ** 2) - floor * floor);
    bottom += s * s;
  });
  return { floor, shoulder: bottom > 0.5 ? Math.sqrt(Math.max(0, top / bottom)) : 0 };
}

const expectedDeviation = (noise: Noise, predicted: number, levels: Levels) =>
  Math.hypot(noise.floor, noise.shoulder * shoulderness(predicted, levels));

/** 1 / expected deviation, times the Huber weight's root beyond 2.5 deviations. */
export function weightsFor(residual: Float64Array, predicted: Float64Array, levels: Levels): Float64Array {
  const noise = noiseOf(residual, predicted, levels);
  return residual.map((value, i) => {
    const deviation = expectedDeviation(noise, predicted[i]!, levels);
    const far = Math.abs(value) / deviation;
    return Math.sqrt(huberWeight(far, 2.5)) / deviation;
  });
}

/** -2 log likelihood per reading of a normal noise whose size follows the shoulder. */
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
