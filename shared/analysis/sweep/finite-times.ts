import type { Reading } from '../../model/reading.ts';

/** Times of the readings, seconds, in their order, without those that are none. */
export function finiteTimes(readings: readonly Reading[]): Float64Array {
  const times = new Float64Array(readings.length);
  let n = 0;
  for (let i = 0; i < readings.length; i += 1) {
    const { elapsedS } = readings[i]!;
    if (Number.isFinite(elapsedS)) times[n++] = elapsedS;
  }
  return times.subarray(0, n);
}
