import { extent } from '../../../numerics/descriptive.ts';
import type { PressureGrid } from './pressure-grid.ts';

/** Seconds on each side over which the rate of the pressure is taken: the grid is smooth over less. */
const rateOverS = 0.15;
/**
 * Beyond what was shown the pressure at the burner went by no more than this share of the range. A valve, or a hose that comes off, leaps
 * within a reading or two: at such a rate the equation would put the pressure far below zero, where it never was.
 */
const beyondShare = 0.1;

/**
 * The pressure at the burner behind a manometer that lags as a first-order system: what is shown plus the lag times its rate, by the equation
 * of such a system (dy/dt = (x - y) / T).
 *
 * @param grid  as the manometer shows it
 * @param lagS  time constant of the manometer, seconds
 */
export function undamped(grid: PressureGrid, lagS: number): PressureGrid {
  const { pressure, stepS } = grid;
  const side = Math.max(1, Math.round(rateOverS / stepS));
  const last = pressure.length - 1;
  const [lowest, highest] = extent(pressure);
  const beyond = beyondShare * (highest - lowest);
  return {
    ...grid,
    pressure: pressure.map((shown, i) => {
      const from = Math.max(0, i - side);
      const to = Math.min(last, i + side);
      const atBurner = shown + (lagS * (pressure[to]! - pressure[from]!)) / ((to - from) * stepS);
      return Math.min(highest + beyond, Math.max(lowest - beyond, atBurner));
    }),
  };
}
