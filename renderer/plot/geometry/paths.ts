import { markOutline, type MarkShape } from '../../../shared/report/chart-marks.ts';

/** One SVG path for many points, so that a thousand points cost the page one element. Pixels throughout. */

const round = (value: number) => Math.round(value * 10) / 10;

/** A line through the points in order; it breaks where a coordinate is not a number. */
export function linePath(x: ArrayLike<number>, y: ArrayLike<number>, indices: Iterable<number>): string {
  let path = '';
  let isPenDown = false;
  for (const i of indices) {
    if (!Number.isFinite(x[i]!) || !Number.isFinite(y[i]!)) {
      isPenDown = false;
      continue;
    }
    path += `${isPenDown ? 'L' : 'M'}${round(x[i]!)} ${round(y[i]!)}`;
    isPenDown = true;
  }
  return path;
}

/** The area between two lines over the same x, closed. */
export function bandPath(
  x: ArrayLike<number>,
  low: ArrayLike<number>,
  high: ArrayLike<number>,
  length: number,
): string {
  if (length === 0) return '';
  const along = Array.from({ length }, (_, i) => `${round(x[i]!)} ${round(high[i]!)}`);
  const back = Array.from({ length }, (_, i) => `${round(x[length - 1 - i]!)} ${round(low[length - 1 - i]!)}`);
  return `M${along.join('L')}L${back.join('L')}Z`;
}

/** All points as one path of the same outline. Points that are not finite are left out. */
export function symbolPath(
  shape: MarkShape,
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  indices: Iterable<number>,
  r = 4,
): string {
  const outline = markOutline(shape, r);
  let path = '';
  for (const i of indices)
    if (Number.isFinite(x[i]!) && Number.isFinite(y[i]!)) path += `M${round(x[i]!)} ${round(y[i]!)}${outline}`;
  return path;
}
