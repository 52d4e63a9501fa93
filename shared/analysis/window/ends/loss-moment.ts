import { extent } from '../../../numerics/descriptive.ts';
import type { Estimate } from '../../curve/estimate.ts';
import { pressureAt, type PressureGrid } from '../../sweep/series/pressure-grid.ts';

/** Coverage factor of the moment: about 95 % (JCGM 100:2008, 6.3.3). */
const coverage = 2;
/** Moments at which the pressure is looked up on each side. */
const looks = 16;

/** Lowest and highest pressure that was passed within twice the uncertainty of a moment; both in seconds. */
export function passedAround(grid: PressureGrid, atS: number, timeU: number): [number, number] {
  const passed = Array.from({ length: 2 * looks + 1 }, (_, i) =>
    pressureAt(grid, atS + (coverage * timeU * (i - looks)) / looks),
  );
  return extent(Float64Array.from(passed));
}

/**
 * The pressure at one moment, its interval widened to every pressure that was passed within twice the uncertainty of that moment. A hand
 * turns in jerks: a tenth of a second more or less may be no pressure at all, or the whole jerk, and a standard deviation would say neither.
 *
 * @param atS    the moment, seconds
 * @param timeU  standard uncertainty of the moment, seconds
 */
export function withMoment<E extends Estimate>(estimate: E, grid: PressureGrid, atS: number, timeU: number): E {
  const [least, most] = passedAround(grid, atS, timeU);
  const { ci } = estimate;
  return { ...estimate, ci: [Math.min(ci[0], least), Math.max(ci[1], most)] };
}
