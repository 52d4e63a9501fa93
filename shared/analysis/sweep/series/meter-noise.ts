import { robustDeviation } from '../../../numerics/robust.ts';
import type { Series } from './series.ts';

/** Smallest step between different values: the meter's last digit, in its unit. 0 when all values are alike. */
export function resolutionOf(value: Float64Array): number {
  const sorted = Float64Array.from(value).sort();
  let smallest = Infinity;
  for (let i = 1; i < sorted.length; i += 1) {
    const step = sorted[i]! - sorted[i - 1]!;
    if (step > 1e-12 && step < smallest) smallest = step;
  }
  return smallest === Infinity ? 0 : smallest;
}

/**
 * Standard deviation of a single reading of the manometer, from second differences, in which a ramp cancels; at least that of
 * the last digit's rectangle (GUM F.2.2.1). In the unit of the values.
 */
export function readingNoise(value: Float64Array): number {
  const differences = new Float64Array(Math.max(0, value.length - 2));
  for (let i = 0; i < differences.length; i += 1)
    differences[i] = (value[i + 2]! - 2 * value[i + 1]! + value[i]!) / Math.sqrt(6);
  return Math.max(robustDeviation(differences, 0), resolutionOf(value) / Math.sqrt(12), 1e-12);
}

/**
 * Standard deviation of the signal's noise before anything is fitted, from differences of neighbors, in its unit; at least a
 * thousandth of the largest reading, so that a quiet signal is not trusted beyond what meters resolve.
 */
export function roughNoise(signal: Series): number {
  const steps = new Float64Array(signal.value.length - 1);
  for (let i = 0; i < steps.length; i += 1) steps[i] = (signal.value[i + 1]! - signal.value[i]!) / Math.SQRT2;
  let largest = 0;
  for (const value of signal.value) largest = Math.max(largest, Math.abs(value));
  return Math.max(robustDeviation(steps), 1e-3 * largest, 1e-9);
}
