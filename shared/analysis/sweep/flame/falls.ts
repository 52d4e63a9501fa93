import { hasGap, longestGap, runsWhere, type Series } from '../series/series.ts';

/** A run of readings below what is required, by the indices of its first reading and of the first good one after it. */
export interface Fall {
  from: number;
  to: number;
  /** Lowest signal of it, in its unit. */
  least: number;
}

/** A time in which the signal was below what is required at a good pressure, and came back by itself. The sweep's units, seconds. */
export interface Excursion {
  /** First reading below what is required. */
  atS: number;
  /** From that reading to the first that is good again. */
  seconds: number;
  /** Pressure at which it fell. */
  pressure: number;
  /** Lowest signal of it. */
  least: number;
  /** Lowest and highest pressure over which it stayed low, where those were turned through. */
  range?: [number, number];
}

/** One reading alone may be a spike; noise of the plateau goes no farther below what is required than this many deviations. */
const minReadings = 2;
export const deviations = 4;

/**
 * A thirtieth of the tested pressures: in a sweep of a minute each way a lag that is wrong by two seconds moves a reading so far.
 */
export const lagMarginShare = 1 / 30;
/** Pressures nearer to each other than this share of the tested ones are one, for a regulator at rest. */
export const oneSettingShare = 1 / 150;
/** A turn moves the pressure by more than a manometer's noise and last digit, inH2O. */
export const leastTurnInH2O = 0.02;

/**
 * Finds the falls of the signal: runs of readings below what is required that were seen from the last good reading before to the first one
 * after, and go beyond the noise.
 *
 * @param required  required signal, in its unit
 * @param noise     standard deviation of its noise
 */
export function findFalls(signal: Series, required: number, noise: number): Fall[] {
  const { time, value } = signal;
  const gapS = longestGap(signal);
  return runsWhere(value.length, (i) => value[i]! < required)
    .map(([from, to]) => ({ from, to, least: value.subarray(from, to).reduce((a, b) => Math.min(a, b), Infinity) }))
    .filter(
      ({ from, to, least }) =>
        from > 0 &&
        to < value.length &&
        to - from >= minReadings &&
        least < required - deviations * noise &&
        !hasGap(time, from - 1, to, gapS),
    );
}
