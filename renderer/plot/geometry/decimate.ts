/** The most points that one drawing takes; beyond it a frame would take too long on a small laptop. */
export const mostPoints = 2000;

/**
 * Which of the points (in pixels) to draw: one a cell of `cell` pixels, the newest of each cell, then the newest
 * `most`. What is left out lies under what is drawn. Gives indices in rising order; points that are not finite are left out.
 */
export function thinScatter(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  length: number,
  cell = 2,
  most: number = mostPoints,
): number[] {
  const seen = new Set<number>();
  const kept: number[] = [];
  for (let i = length - 1; i >= 0; i--) {
    const column = Math.round(x[i]! / cell);
    const row = Math.round(y[i]! / cell);
    const key = column * 65_536 + row;
    if (!Number.isFinite(key) || seen.has(key)) continue;
    seen.add(key);
    kept.push(i);
    if (kept.length === most) break;
  }
  return kept.toReversed();
}

/** The slowest meters send every two seconds; a longer pause is a gap, over which no line may lead. Seconds. */
const longestPauseS = 5;

/** The stretches [from, to) of rising times without a gap among them. */
export function unbroken(elapsedS: ArrayLike<number>, from: number, to: number): [number, number][] {
  const found: [number, number][] = [];
  let begin = from;
  for (let i = from + 1; i <= to; i++)
    if (i === to || elapsedS[i]! - elapsedS[i - 1]! > longestPauseS) {
      found.push([begin, i]);
      begin = i;
    }
  return found;
}

/**
 * Which points of a line against time to draw: in each of `most / 4` equal stretches of [from, to) the first, the
 * least, the greatest and the last, so that no peak is lost. NaN is kept once a stretch: there the line breaks.
 * Gives indices in rising order. `x` must rise.
 */
export function thinLine(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  from: number,
  to: number,
  most: number = mostPoints,
): number[] {
  if (to - from <= most) return Array.from({ length: Math.max(0, to - from) }, (_, i) => from + i);
  const stretches = Math.max(1, Math.floor(most / 4));
  const start = x[from]!;
  const width = (x[to - 1]! - start) / stretches || 1;
  const kept: number[] = [];
  let i = from;
  for (let stretch = 0; stretch < stretches && i < to; stretch++) {
    const first = i;
    let least = i;
    let greatest = i;
    let gap = -1;
    const end = stretch === stretches - 1 ? Number.POSITIVE_INFINITY : start + (stretch + 1) * width;
    for (; i < to && x[i]! < end; i++) {
      const value = y[i]!;
      if (Number.isNaN(value)) gap = i;
      if (!(value >= y[least]!)) least = Number.isNaN(value) ? least : i;
      if (!(value <= y[greatest]!)) greatest = Number.isNaN(value) ? greatest : i;
    }
    if (i === first) continue;
    const chosen = [...new Set([first, least, greatest, i - 1, ...(gap >= 0 ? [gap] : [])])];
    kept.push(...chosen.sort((a, b) => a - b));
  }
  return kept;
}
