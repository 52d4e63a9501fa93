import type { StateSpan } from '../../../burner-state/track.ts';
import type { Mark } from '../../../model/capture.ts';
import type { TimeSpan } from '../../../model/sweeps.ts';
import { pressureAt, type PressureGrid } from '../series/pressure-grid.ts';
import { burns, isUnseen } from './gas-off.ts';
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

/** What the meters showed, with hindsight, when the pressure as left was recorded, where it was no flame that burns. */
export interface AsLeftDoubt {
  atS: number;
  /** `out`: no flame burned. `unseen`: a meter was silent or repeated itself. */
  what: 'out' | 'unseen';
}

/** The state so long before the entry still speaks for it, seconds: gas is often shut at once. */
const recentS = 2;

/** Whether a flame was seen to burn when the pressure as left was last recorded; undefined where one was, and where nobody can tell. */
export function asLeftDoubt(spans: readonly StateSpan[], marks: readonly Mark[]): AsLeftDoubt | undefined {
  const atS = marks.findLast(({ kind }) => kind === 'as-left')?.elapsedS;
  if (atS === undefined) return undefined;
  const recent = spans.filter(({ from_s, to_s }) => to_s > atS - recentS && from_s <= atS);
  if (recent.length === 0 || recent.some((span) => burns(span) && span.gas !== 'unknown')) return undefined;
  if (recent.some((span) => isUnseen(span, 'gas') || isUnseen(span, 'flame'))) return { atS, what: 'unseen' };
  return recent.every(({ flame }) => flame === 'unknown') ? undefined : { atS, what: 'out' };
}
