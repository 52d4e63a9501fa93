import type { StateSpan } from '../../../burner-state/track.ts';
import type { TimeSpan } from '../../../model/sweeps.ts';
import { pressureAt, type PressureGrid } from '../series/pressure-grid.ts';
import { lossesWithGasOn } from './losses-with-gas-on.ts';

/** A shorter time without flame before gas is shut may be the shutting itself, as a slow manometer shows it, seconds. */
const leastLostS = 2;

/**
 * Losses of the flame with gas on outside of the readings of the sweep, such as one at the setting: seconds, and the pressure then.
 *
 * @param grid  pressure of the whole capture
 * @param swept  from the first to the last reading of the sweep that counts
 * @param discarded  sweeps that the technician discarded: what happened there is not held against the setting
 */
export function lossesOutsideSweep(
  spans: readonly StateSpan[],
  grid: PressureGrid,
  swept: TimeSpan,
  discarded: readonly TimeSpan[],
): { atS: number; pressure: number }[] {
  const isIn = (atS: number, { fromS, toS }: TimeSpan) => atS >= fromS && atS <= toS;
  return lossesWithGasOn(spans)
    .filter(({ fromS, toS }) => toS - fromS >= leastLostS)
    .filter(({ fromS }) => !isIn(fromS, swept) && !discarded.some((each) => isIn(fromS, each)))
    .map(({ fromS }) => ({ atS: fromS, pressure: pressureAt(grid, fromS) }));
}
