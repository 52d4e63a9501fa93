import type { StateSpan } from '../../../burner-state/track.ts';
import { burns } from '../../sweep/flame/gas-off.ts';
import { deviations, type Excursion, lagMarginShare } from '../../sweep/flame/falls.ts';
import type { Pairs } from '../../sweep/series/pairs.ts';
import { hasGap, longestGap, runsWhere } from '../../sweep/series/series.ts';
import type { SignalInterval } from '../ends/signal-interval.ts';
import type { FlameHysteresis } from './flame-hysteresis.ts';

/** How far inside of the ends a signal is weak for a reason of its own: so many margins, or this share of an interval that is narrow. */
const [farMargins, farShare] = [4, 0.25];
/** The signal of a flame that is back shows nine tenths of itself after so many lags, and a dead time of a second at most. */
const [risenLags, deadS] = [Math.LN10, 1];
/** So many good readings before it, since gas came on, show that the signal was good until then. */
const fewestGood = 3;

/**
 * Looks for stretches in which a flame that burned, and had a good signal since gas came on, was too weak well inside the signal interval
 * until gas was shut or until long after: one that was lost beyond an end and came back lower than before, or that sank. What falls and comes
 * back amid good pressures is an excursion already.
 *
 * @param pairs    readings with their pressures, lag removed
 * @param lagS     seconds by which the signal follows the pressure
 * @param noise    standard deviation of the signal on the plateau, in its unit
 * @param spans    what the burner did
 * @param returns  where a flame came back by itself: up to there the signal is known to be low
 */
export function findWeakStretches(
  { elapsedS, pressure, signal }: Pairs,
  lagS: number,
  { low, high, required }: SignalInterval,
  [lowest, highest]: readonly [number, number],
  noise: number,
  spans: readonly StateSpan[],
  returns: readonly FlameHysteresis[],
): Excursion[] {
  if (!low || !high) return [];
  const far = Math.min(farMargins * lagMarginShare * (highest - lowest), farShare * (high.value - low.value));
  const returnedAt = (side: 'low' | 'high') => returns.flatMap((each) => (each.side === side ? each.returned.ci : []));
  // Beyond an end that was not found nothing tells that the signal is bad.
  const from = low.bounded ? Math.max(low.value + far, ...returnedAt('low')) : -Infinity;
  const to = high.bounded ? Math.min(high.value - far, ...returnedAt('high')) : Infinity;
  const gapS = longestGap({ time: elapsedS, value: signal });
  const lit = spans.filter(burns);
  const isLit = (t: number) => lit.some(({ from_s, to_s }) => t >= from_s && t <= to_s);
  const isWeak = (i: number) =>
    signal[i]! < required.value && pressure[i]! > from && pressure[i]! < to && isLit(elapsedS[i]!);
  return runsWhere(elapsedS.length, (i) => isWeak(i)).flatMap(([first, past]): Excursion[] => {
    const seconds = elapsedS[past - 1]! - elapsedS[first]!;
    const over = pressure.subarray(first, past);
    const least = signal.subarray(first, past).reduce((a, b) => Math.min(a, b));
    if (seconds < deadS + risenLags * Math.max(0, lagS) || least >= required.value - deviations * noise) return [];
    if (hasGap(elapsedS, first, past - 1, gapS) || !wasGood(first)) return [];
    const range: [number, number] = [Math.min(...over), Math.max(...over)];
    return [{ atS: elapsedS[first]!, seconds, pressure: pressure[first]!, least, range }];
  });

  /** Whether the signal was good before a reading and since gas came on. */
  function wasGood(before: number): boolean {
    let good = 0;
    for (let i = before - 1; i >= 0 && elapsedS[i + 1]! - elapsedS[i]! <= gapS; i -= 1)
      if (signal[i]! >= required.value) good += 1;
    return good >= fewestGood;
  }
}
