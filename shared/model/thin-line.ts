/** Points drawn at most; with more of them a frame takes too long on a small laptop. */
export const maxPoints = 2000;

/**
 * Which points of a line against time to draw: in each of `limit / 4` equal spans of [from, to) the first, the lowest, the
 * highest and the last, so that no peak is lost, and one NaN, where the line breaks.
 * Gives indices in ascending order. `x` must be ascending.
 */
export function thinLine(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  from: number,
  to: number,
  limit: number = maxPoints,
): number[] {
  if (to - from <= limit) return Array.from({ length: Math.max(0, to - from) }, (_, i) => from + i);
  const spans = Math.max(1, Math.floor(limit / 4));
  const start = x[from]!;
  const width = (x[to - 1]! - start) / spans || 1;
  const chosen: number[] = [];
  let i = from;
  for (let span = 0; span < spans && i < to; span++) {
    const first = i;
    let lowest = i;
    let highest = i;
    let gap = -1;
    const end = span === spans - 1 ? Number.POSITIVE_INFINITY : start + (span + 1) * width;
    for (; i < to && x[i]! < end; i++) {
      const value = y[i]!;
      if (Number.isNaN(value)) gap = i;
      if (!(value >= y[lowest]!)) lowest = Number.isNaN(value) ? lowest : i;
      if (!(value <= y[highest]!)) highest = Number.isNaN(value) ? highest : i;
    }
    if (i === first) continue;
    const inSpan = [...new Set([first, lowest, highest, i - 1, ...(gap >= 0 ? [gap] : [])])];
    chosen.push(...inSpan.sort((a, b) => a - b));
  }
  return chosen;
}
