import { exp } from '../../../numerics/elementary.ts';
import type { CurveFit } from '../fit-shape.ts';

/**
 * Distance of two knots where the curve bends most, in widths of its shoulder: three or four on the way from 90 % to 10 %, which is 4.4
 * widths; and how much of the distance from there it grows by.
 */
const atShoulder = { widths: 1.3, growth: 0.35 };
/** Shortest and longest distance of two knots, in halves of the tested range. */
const distances = { shortest: 0.02, longest: 0.5 };
/** Fewest and most pieces of the spline. */
const pieces = { fewest: 4, most: 24 };
/** Steps in which the tested range is gone through; far finer than the shortest distance. */
const steps = 400;

/**
 * Knots of a cubic spline over the tested range: close where the fitted shoulders bend, far apart on the plateau, so that one prior
 * for all coefficients suits both.
 *
 * @returns rising, in the sweep's unit of pressure, with the three knots beyond either end that cubic splines need
 */
export function knotsFor({ fit: { parameters: x }, layout, scale }: CurveFit): Float64Array {
  const { middle, half } = scale;
  const [from, step] = [middle - half, (2 * half) / steps];
  const shoulders = [
    { at: layout.low, width: layout.lowWidth },
    { at: layout.high, width: layout.highWidth },
  ].flatMap(({ at, width }) => (at < 0 ? [] : [{ at: x[at]!, width: exp(x[width]!) }]));
  const distanceAt = (p: number) =>
    shoulders.reduce((least, { at, width }) => {
      const near = Math.max(distances.shortest * half, atShoulder.widths * width);
      return Math.min(least, near + atShoulder.growth * Math.abs(p - at));
    }, distances.longest * half);
  // How many distances fit in from the lowest pressure to each step; the knots share them out evenly.
  const passed = new Float64Array(steps + 1);
  for (let i = 1; i <= steps; i += 1) passed[i] = passed[i - 1]! + step / distanceAt(from + (i - 0.5) * step);
  const count = Math.max(pieces.fewest, Math.min(pieces.most, Math.round(passed[steps]!)));
  const inner = new Float64Array(count + 1);
  for (let k = 0, i = 0; k <= count; k += 1) {
    const wanted = (passed[steps]! * k) / count;
    while (i < steps - 1 && passed[i + 1]! < wanted) i += 1;
    inner[k] = from + step * (i + (wanted - passed[i]!) / (passed[i + 1]! - passed[i]!));
  }
  const [first, last] = [inner[0]!, inner[count]!];
  const [before, after] = [inner[1]! - first, last - inner[count - 1]!];
  return Float64Array.from([
    ...[3, 2, 1].map((k) => first - k * before),
    ...inner,
    ...[1, 2, 3].map((k) => last + k * after),
  ]);
}
