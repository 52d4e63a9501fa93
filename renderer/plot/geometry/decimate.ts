import { maxPoints } from '../../../shared/model/thin-line.ts';

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
