import { extent } from '../../../numerics/descriptive.ts';
import { coverage, type Estimate } from '../../curve/estimate.ts';
import { pressureAt, type PressureGrid } from '../../sweep/series/pressure-grid.ts';

/** Moments at which the pressure is looked up on each side. */
const looks = 16;

/** A pressure that moved by less than this share of all that it did in the sweep rested. */
const restShare = 1 / 200;
/** A turn of the hand is over within so many seconds, and the rest before it is seen in so many. */
const [longestTurnS, lookS] = [6, 0.5];

/**
 * Lowest and highest pressure that was passed within twice the uncertainty of a moment; both in seconds. Where the regulator rested then, also
 * the pressure at which it rested before its last turn: a flame that goes out at rest was beyond its end since that turn, or was blown
 * out, so its end may lie anywhere between.
 */
export function passedAround(grid: PressureGrid, atS: number, timeU: number): [number, number] {
  const passed = Array.from({ length: 2 * looks + 1 }, (_, i) =>
    pressureAt(grid, atS + (coverage * timeU * (i - looks)) / looks),
  );
  const [least, most] = extent(Float64Array.from(passed));
  const [lowest, highest] = extent(grid.pressure);
  const moved = restShare * (highest - lowest);
  if (most - least > moved) return [least, most];
  const before = restedBefore(grid, atS, moved);
  return [Math.min(least, before), Math.max(most, before)];
}

/** Pressure at which the regulator rested before the turn that brought it where it is at a moment; that of now where none is seen. */
function restedBefore(grid: PressureGrid, atS: number, moved: number): number {
  const now = pressureAt(grid, atS);
  let t = atS;
  while (t > grid.startS && Math.abs(pressureAt(grid, t) - now) <= moved) t -= grid.stepS;
  if (t <= grid.startS) return now;
  const turnedS = t;
  while (
    t > Math.max(grid.startS, turnedS - longestTurnS) &&
    Math.abs(pressureAt(grid, t - lookS) - pressureAt(grid, t)) > moved / 2
  )
    t -= grid.stepS;
  return pressureAt(grid, t);
}

/** What is known of one moment. */
export interface MomentUncertainty {
  /** Standard uncertainty of the moment, seconds. */
  timeU: number;
  /** Standard uncertainty of what the manometer showed then, from its noise and last digit, in the unit of the pressures. */
  pressureU: number;
}

/**
 * The pressure at one moment, its interval widened to every pressure that was passed within twice the uncertainty of that moment, and by twice
 * that of a reading. A hand turns in jerks: a tenth of a second more or less may be no pressure at all, or the whole jerk, and a standard
 * deviation would say neither.
 *
 * @param atS  the moment, seconds
 */
export function withMoment<E extends Estimate>(
  estimate: E,
  grid: PressureGrid,
  atS: number,
  { timeU, pressureU }: MomentUncertainty,
): E {
  const [least, most] = passedAround(grid, atS, timeU);
  const { ci } = estimate;
  const more = coverage * pressureU;
  return { ...estimate, ci: [Math.min(ci[0], least - more), Math.max(ci[1], most + more)] };
}
