import { area, line } from 'd3-shape';
import { markOutline, type MarkShape } from '../../../shared/report/charts/chart-marks.ts';

/** One SVG path for many points, so that a thousand points cost the page one element. Pixels throughout. */

const decimals = 1;
const round = (value: number) => Math.round(value * 10) / 10;

/** A line through the points in order; it breaks where a coordinate is not a number. */
export const linePath = (x: ArrayLike<number>, y: ArrayLike<number>, indices: Iterable<number>): string =>
  line<number>(
    (i) => x[i]!,
    (i) => y[i]!,
  )
    .defined((i) => Number.isFinite(x[i]) && Number.isFinite(y[i]))
    .digits(decimals)(indices) ?? '';

/** The area between two lines over the same x, closed; it breaks where a coordinate is not a number. */
export const bandPath = (
  x: ArrayLike<number>,
  low: ArrayLike<number>,
  high: ArrayLike<number>,
  length: number,
): string =>
  area<number>(
    (i) => x[i]!,
    (i) => low[i]!,
    (i) => high[i]!,
  )
    .defined((i) => Number.isFinite(x[i]) && Number.isFinite(low[i]) && Number.isFinite(high[i]))
    .digits(decimals)(Array.from({ length }, (_, i) => i)) ?? '';

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
