import { robustDeviation } from '../../../numerics/robust.ts';
import type { Series } from './series.ts';

// Of each array of values once: several steps ask for it, and it looks at all readings.
const knownResolutions = new WeakMap<Float64Array, number>();

/** Smallest step between different values: the meter's last digit, in its unit. 0 when all are alike. They must not be changed afterwards. */
export function resolutionOf(value: Float64Array): number {
  const known = knownResolutions.get(value);
  if (known !== undefined) return known;
  // A meter has far fewer values than readings.
  const inOrder = Float64Array.from(new Set(value)).sort();
  let smallest = Infinity;
  for (let i = 1; i < inOrder.length; i += 1) {
    const step = inOrder[i]! - inOrder[i - 1]!;
    if (step > 1e-12 && step < smallest) smallest = step;
  }
  const resolution = smallest === Infinity ? 0 : smallest;
  knownResolutions.set(value, resolution);
  return resolution;
}

const knownNoises = new WeakMap<Float64Array, number>();

/**
 * Standard deviation of a single reading of the manometer, from second differences, in which a ramp cancels; at least that of
 * the last digit's rectangle (GUM F.2.2.1). In the unit of the values, which must not be changed afterwards.
 */
export function readingNoise(value: Float64Array): number {
  const known = knownNoises.get(value);
  if (known !== undefined) return known;
  const differences = new Float64Array(Math.max(0, value.length - 2));
  for (let i = 0; i < differences.length; i += 1)
    differences[i] = (value[i + 2]! - 2 * value[i + 1]! + value[i]!) / Math.sqrt(6);
  const noise = Math.max(robustDeviation(differences, 0), resolutionOf(value) / Math.sqrt(12), 1e-12);
  knownNoises.set(value, noise);
  return noise;
}

/**
 * Standard deviation of the signal's noise before anything is fitted, from differences of neighbors, in its unit; at least a
 * thousandth of the largest reading, so that a quiet signal is not trusted beyond what meters resolve.
 */
export function roughNoise(signal: Series): number {
  const steps = new Float64Array(signal.value.length - 1);
  for (let i = 0; i < steps.length; i += 1) steps[i] = (signal.value[i + 1]! - signal.value[i]!) / Math.SQRT2;
  let largest = 0;
  for (let i = 0; i < signal.value.length; i += 1) largest = Math.max(largest, Math.abs(signal.value[i]!));
  return Math.max(robustDeviation(steps), 1e-3 * largest, 1e-9);
}
