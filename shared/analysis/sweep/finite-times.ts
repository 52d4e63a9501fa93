import type { Reading } from '../../model/reading.ts';

/** Times of the readings, seconds, in their order, without those that are none. */
export function finiteTimes(readings: readonly Reading[]): Float64Array {
  const times = new Float64Array(readings.length);
  let n = 0;
  for (const { elapsedS } of readings) if (Number.isFinite(elapsedS)) times[n++] = elapsedS;
  return times.subarray(0, n);
}
