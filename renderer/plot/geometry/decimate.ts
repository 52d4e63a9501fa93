/** Points drawn at most; with more of them a frame takes too long on a small laptop. */
export const maxPoints = 2000;

/**
 * Which points (in pixels) to draw: the newest in each cell of `cell` pixels, and of those the newest `limit`. Points left out
 * lie under those drawn. Gives indices in ascending order; points that are not finite are left out.
 */
export function thinScatter(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  length: number,
  cell = 2,
  limit: number = maxPoints,
): number[] {
  const seen = new Set<number>();
  const chosen: number[] = [];
  for (let i = length - 1; i >= 0; i--) {
    const column = Math.round(x[i]! / cell);
    const row = Math.round(y[i]! / cell);
    const key = column * 65_536 + row;
    if (!Number.isFinite(key) || seen.has(key)) continue;
    seen.add(key);
    chosen.push(i);
    if (chosen.length === limit) break;
  }
  return chosen.toReversed();
}

/** The slowest meters send every two seconds; a longer pause is a gap, and no line is drawn across it. Seconds. */
export const usualPauseS = 5;

/** The index ranges [from, to) of ascending times that have no gap in them, and of which `kindOf` says the same throughout. */
export function contiguousSpans(
  elapsedS: ArrayLike<number>,
  from: number,
  to: number,
  kindOf: (elapsedS: number) => unknown = () => undefined,
  pauseS = usualPauseS,
): [number, number][] {
  const found: [number, number][] = [];
  let begin = from;
  let kind = from < to ? kindOf(elapsedS[from]!) : undefined;
  for (let i = from + 1; i <= to; i++) {
    const next = i < to ? kindOf(elapsedS[i]!) : undefined;
    if (i === to || next !== kind || elapsedS[i]! - elapsedS[i - 1]! > pauseS) {
      found.push([begin, i]);
      begin = i;
    }
    kind = next;
  }
  return found;
}

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
