import { median } from '../../numerics/descriptive.ts';
import { robustDeviation } from '../../numerics/robust.ts';

/** A stretch of pressures between good ones over which the steady signal is not good enough. Pressures and signal in the sweep's units. */
export interface Dip {
  from: number;
  to: number;
  /** Up to so far beyond, its sides may lie in a slice with good readings. */
  margin: number;
  /** Median signal in the worst slice of it. */
  signal: number;
  /** The side of the window that it bounds: what is left is the wider side. */
  side: 'low' | 'high';
  /** The pressure at which it does. */
  value: number;
}

/** Slices between the ends; a slice says something with so many readings. */
const slices = 24;
const leastReadings = 4;
/** What a curve that does not follow a dip leaves looks correlated; flicker alone makes one of no more than so many readings. */
const mostInflation = 4;
/** How many standard deviations of a slice's median are beyond chance, among so many slices. */
const beyondChance = 3;

/**
 * Looks for slices of pressure between the ends whose median signal lies below what is required, beyond what noise explains:
 * a curve that rises and then falls cannot show them. Undefined when there are none.
 *
 * @param pressure, signal  per reading, lag removed, same length
 * @param ends              the signal interval
 * @param inflation         how many readings one independent reading stands for
 */
export function findDip(
  pressure: Float64Array,
  signal: Float64Array,
  [low, high]: [number, number],
  required: number,
  inflation: number,
): Dip | undefined {
  const wide = (high - low) / slices;
  const members: number[][] = Array.from({ length: slices }, () => []);
  pressure.forEach((p, i) => {
    const slice = Math.floor((p - low) / wide);
    if (slice >= 0 && slice < slices) members[slice]!.push(signal[i]!);
  });
  const levels = members.map((values) => {
    if (values.length < leastReadings) return undefined;
    const all = Float64Array.from(values);
    const level = median(all);
    // Variance of a median of n normal readings: pi s^2 / (2 n).
    const doubt =
      robustDeviation(all) * Math.sqrt((Math.PI / 2) * Math.min(1, Math.min(inflation, mostInflation) / values.length));
    return { level, bad: level + beyondChance * doubt < required, good: level - 2 * doubt >= required };
  });
  const first = levels.findIndex((slice) => slice?.good);
  const last = levels.findLastIndex((slice) => slice?.good);
  const bad = levels.flatMap((slice, k) => (slice?.bad && k > first && k < last ? [k] : []));
  if (first < 0 || bad.length === 0) return undefined;
  // Out to the first slices that are good for sure.
  const before = levels.findLastIndex((slice, k) => k < bad[0]! && slice?.good);
  const after = levels.findIndex((slice, k) => k > bad.at(-1)! && slice?.good);
  const [from, to] = [low + (before + 1) * wide, low + after * wide];
  const worst = Math.min(...bad.map((k) => levels[k]!.level));
  return from - low >= high - to
    ? { from, to, margin: 2 * wide, signal: worst, side: 'high', value: from }
    : { from, to, margin: 2 * wide, signal: worst, side: 'low', value: to };
}
