import { longestGap, type Series } from '../series/series.ts';

/**
 * Seconds for which `meter` gave no number while `other` did: before its first and after its last reading, and between two that
 * lie further apart than `longestGap`. While both are silent is a pause, not a fault of one.
 *
 * @param meter, other  series of the two meters, rising times in seconds
 */
export function silentSeconds(meter: Series, other: Series): number {
  const { time } = meter;
  const gapS = longestGap(meter);
  const pauseS = longestGap(other);
  let silent = 0;
  let next = 0;
  for (let k = 1; k < other.time.length; k += 1) {
    const [from, to] = [other.time[k - 1]!, other.time[k]!];
    if (to - from > pauseS) continue;
    const middle = (from + to) / 2;
    while (next < time.length && time[next]! < middle) next += 1;
    const before = next > 0 ? time[next - 1]! : -Infinity;
    const after = next < time.length ? time[next]! : Infinity;
    const isOutside = !Number.isFinite(before) || !Number.isFinite(after);
    // Before its first and after its last reading a meter is silent once it has missed as much as in a gap.
    const gap = isOutside ? 2 * Math.min(middle - before, after - middle) : after - before;
    if (gap > gapS) silent += to - from;
  }
  return silent;
}
