import { leastProbability } from '../../../burner-state/chain/label.ts';
import type { StateSpan } from '../../../burner-state/track.ts';
import type { Mark } from '../../../model/capture.ts';
import type { SweepSpan } from '../../../model/sweeps.ts';
import { pressureAt, type PressureGrid } from '../series/pressure-grid.ts';
import { burns } from './gas-off.ts';

/** A shorter time without flame before gas is shut may be the shutting itself, as a slow manometer shows it, seconds. */
const leastLostS = 2;

/**
 * Losses of the flame with gas on outside of the readings of the sweep, such as one at the setting: seconds, and the pressure then.
 *
 * @param grid  pressure of the whole capture
 * @param sweepS  first and last reading of the sweep that counts, seconds
 * @param discarded  sweeps that the technician discarded: what happened there is not held against the setting
 */
export function lossesOutsideSweep(
  spans: readonly StateSpan[],
  grid: PressureGrid,
  sweepS: readonly [number, number],
  discarded: readonly SweepSpan[],
): { atS: number; pressure: number }[] {
  return spans.flatMap(({ flame, from_s: atS }, i) => {
    if (flame !== 'lost' || spans[i - 1]?.flame === 'lost') return [];
    const end = spans.findIndex((each, k) => k > i && each.flame !== 'lost');
    const lastsS = (end < 0 ? spans.at(-1)!.to_s : spans[end]!.from_s) - atS;
    const before = spans.slice(0, i).findLast((each) => burns(each) || each.gas === 'shut' || each.flame === 'lost');
    const isElsewhere = atS < sweepS[0] || atS > sweepS[1];
    const isDiscarded = discarded.some(({ fromS, toS }) => atS >= fromS && atS <= toS);
    if (lastsS < leastLostS || !before || !burns(before) || !isElsewhere || isDiscarded) return [];
    return [{ atS, pressure: pressureAt(grid, atS) }];
  });
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
  // What is unknown though the readings leave no doubt is so for a meter in trouble.
  const isUnseen = recent.some(
    ({ gas, flame, probability }) => (gas === 'unknown' || flame === 'unknown') && probability >= leastProbability,
  );
  if (isUnseen) return { atS, what: 'unseen' };
  return recent.every(({ flame }) => flame === 'unknown') ? undefined : { atS, what: 'out' };
}
