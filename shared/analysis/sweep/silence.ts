import { longestGap, type Series } from './series.ts';

/**
 * Seconds for which `meter` gave no number while `other` spoke: beside its readings, and between two that lie further
 * apart than 2 s and five of its usual intervals. A time in which both are silent is a pause, not a fault of one.
 *
 * @param meter, other  series of the two meters, rising times in seconds
 */
export function silentSeconds(meter: Series, other: Series): number {
  const { time } = meter;
  const longest = longestGap(meter);
  // The other meter's own pauses count for nothing.
  const most = longestGap(other);
  let silent = 0;
  let next = 0;
  for (let k = 1; k < other.time.length; k += 1) {
    const [from, to] = [other.time[k - 1]!, other.time[k]!];
    if (to - from > most) continue;
    const middle = (from + to) / 2;
    while (next < time.length && time[next]! < middle) next += 1;
    const before = next > 0 ? time[next - 1]! : -Infinity;
    const after = next < time.length ? time[next]! : Infinity;
    const isEdge = !Number.isFinite(before) || !Number.isFinite(after);
    // Before its first and after its last reading a meter is silent once it has missed as much as in a gap.
    const gap = isEdge ? 2 * Math.min(middle - before, after - middle) : after - before;
    if (gap > longest) silent += to - from;
  }
  return silent;
}
