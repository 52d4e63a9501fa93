import { robustDeviation } from '../../numerics/robust.ts';
import type { Series } from './series.ts';

/** Smallest step between different values: what the meter's last digit is worth. */
export function resolutionOf(value: Float64Array): number {
  const sorted = Float64Array.from(value).sort();
  let least = Infinity;
  for (let i = 1; i < sorted.length; i += 1) {
    const step = sorted[i]! - sorted[i - 1]!;
    if (step > 1e-12 && step < least) least = step;
  }
  return least === Infinity ? 0 : least;
}

/** Noise of single readings, from second differences, in which a ramp cancels; at least the last digit's. */
export function readingNoise(value: Float64Array): number {
  const bends = new Float64Array(Math.max(0, value.length - 2));
  for (let i = 0; i < bends.length; i += 1) bends[i] = (value[i + 2]! - 2 * value[i + 1]! + value[i]!) / Math.sqrt(6);
  return Math.max(robustDeviation(bends, 0), resolutionOf(value) / Math.sqrt(12), 1e-12);
}

/** Size of the noise before anything is fitted: from differences of neighbours. */
export function roughNoise(signal: Series): number {
  const steps = new Float64Array(signal.value.length - 1);
  for (let i = 0; i < steps.length; i += 1) steps[i] = (signal.value[i + 1]! - signal.value[i]!) / Math.SQRT2;
  let largest = 0;
  for (const value of signal.value) largest = Math.max(largest, Math.abs(value));
  return Math.max(robustDeviation(steps), 1e-3 * largest, 1e-9);
}
