import { median } from '../../../numerics/descriptive.ts';
import { robustDeviation } from '../../../numerics/robust.ts';
import { slicesOf } from '../../sweep/series/slices.ts';

/**
 * A stretch of pressures between good ones over which the steady signal is not good enough. Pressures and signal in the sweep's
 * units.
 */
export interface Dip {
  from: number;
  to: number;
  /** So far beyond `from` and `to` its flanks may share a slice with good readings. */
  margin: number;
  /** Median signal in the worst slice of it. */
  signal: number;
  /** The side of the window that it bounds: what is left is the wider side. */
  side: 'low' | 'high';
  /** The pressure at which it does. */
  value: number;
}

/** Slices between the ends; a median of fewer readings than this is not compared. */
const slices = 24;
const minReadings = 4;
/**
 * Where a curve does not follow a dip its residuals look correlated; flicker alone inflates the variance by no more than this.
 */
const maxInflation = 4;
/** Standard errors of a slice's median beyond which it is bad, and good: 3 are beyond chance even among two dozen slices. */
const badErrors = 3;
const goodErrors = 2;

/** Median signal of each slice, and whether it is surely below or above what is required; undefined where few readings tell. */
function levelsOf(members: readonly number[][], required: number, inflation: number) {
  return members.map((values) => {
    if (values.length < minReadings) return undefined;
    const all = Float64Array.from(values);
    const level = median(all);
    // Variance of a median of n normal readings: pi s^2 / (2 n).
    const error =
      robustDeviation(all) * Math.sqrt((Math.PI / 2) * Math.min(1, Math.min(inflation, maxInflation) / values.length));
    return { level, bad: level + badErrors * error < required, good: level - goodErrors * error >= required };
  });
}

/**
 * Whether the signal is surely below what is required somewhere between two pressures, however good it is elsewhere between them.
 *
 * @param pressure, signal  per reading, lag removed, same length
 * @param span              width of the tested pressures: a slice is as narrow as those in which dips are looked for
 */
export function isBadSomewhere(
  pressure: Float64Array,
  signal: Float64Array,
  [low, high]: [number, number],
  span: number,
  required: number,
): boolean {
  const count = Math.max(1, Math.round((slices * (high - low)) / span));
  return levelsOf(slicesOf(pressure, signal, [low, high], count), required, maxInflation).some((slice) => slice?.bad);
}

/**
 * Looks for slices of pressure between the ends whose median signal lies below what is required, beyond what noise explains:
 * a curve that rises and then falls cannot show them. Undefined when there are none.
 *
 * @param pressure, signal  per reading, lag removed, same length
 * @param ends              of the signal interval
 * @param required          required signal, unit of `signal`
 * @param inflation         variance inflation: how many readings amount to one independent reading
 */
export function findDip(
  pressure: Float64Array,
  signal: Float64Array,
  [low, high]: [number, number],
  required: number,
  inflation: number,
): Dip | undefined {
  const width = (high - low) / slices;
  const levels = levelsOf(slicesOf(pressure, signal, [low, high], slices), required, inflation);
  const first = levels.findIndex((slice) => slice?.good);
  const last = levels.findLastIndex((slice) => slice?.good);
  const bad = levels.flatMap((slice, k) => (slice?.bad && k > first && k < last ? [k] : []));
  if (first < 0 || bad.length === 0) return undefined;
  // Outward to the first slices that are clearly good.
  const before = levels.findLastIndex((slice, k) => k < bad[0]! && slice?.good);
  const after = levels.findIndex((slice, k) => k > bad.at(-1)! && slice?.good);
  const [from, to] = [low + (before + 1) * width, low + after * width];
  const worst = Math.min(...bad.map((k) => levels[k]!.level));
  return from - low >= high - to
    ? { from, to, margin: 2 * width, signal: worst, side: 'high', value: from }
    : { from, to, margin: 2 * width, signal: worst, side: 'low', value: to };
}
