import type { StateSpan } from '../../../burner-state/track.ts';
import type { DropOut } from '../../sweep/flame/drop-outs.ts';
import { type Excursion, findFalls, lagMarginShare } from '../../sweep/flame/falls.ts';
import type { Pairs } from '../../sweep/series/pairs.ts';
import type { SignalInterval } from '../ends/signal-interval.ts';

/** A fall that goes on to where the signal is bad anyway begins so many margins inside of there. */
const farMargins = 4;

/**
 * Looks for excursions of the signal: runs of readings below what is required that begin at pressures clearly inside the signal
 * interval, gas never shut. Self-check pulses and spikes are not among the readings any more. None where no
 * window was found.
 *
 * @param pairs   readings with their pressures, lag removed
 * @param noise   standard deviation of the signal on the plateau, in its unit
 * @param spans   what the burner did
 * @param dropOuts  those that are known already
 */
export function findExcursions(
  { elapsedS, pressure, signal }: Pairs,
  { low, high, required }: SignalInterval,
  [lowest, highest]: readonly [number, number],
  noise: number,
  spans: readonly StateSpan[],
  dropOuts: readonly DropOut[],
): Excursion[] {
  if (!low || !high) return [];
  const margin = lagMarginShare * (highest - lowest);
  const isInside = (p: number, margins = 1) => p > low.value + margins * margin && p < high.value - margins * margin;
  const isDropOut = (t: number) => dropOuts.some(({ atS, seconds }) => t >= atS && t <= atS + seconds);
  const found = dropOuts
    .filter((each) => isInside(each.pressure, 0))
    .map(({ atS, seconds, pressure: at, least }): Excursion => ({ atS, seconds, pressure: at, least }));
  for (const { from, to, least } of findFalls({ time: elapsedS, value: signal }, required.value, noise)) {
    const [atS, backS] = [elapsedS[from]!, elapsedS[to]!];
    const flows = spans.every(
      ({ from_s, to_s, gas }) => to_s <= atS || from_s >= backS || gas === 'flowing' || gas === 'unknown',
    );
    const stays = pressure.subarray(from, to + 1).every((p) => isInside(p));
    if (flows && isInside(pressure[from]!, stays ? 1 : farMargins) && !isDropOut(atS))
      found.push({ atS, seconds: backS - atS, pressure: pressure[from]!, least });
  }
  return found.sort((a, b) => a.atS - b.atS);
}
