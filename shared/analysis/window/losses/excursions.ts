import type { StateSpan } from '../../../burner-state/track.ts';
import type { DropOut } from '../../sweep/flame/drop-outs.ts';
import type { Pairs } from '../../sweep/series/pairs.ts';
import { hasGap, longestGap } from '../../sweep/series/series.ts';
import type { SignalInterval } from '../ends/signal-interval.ts';

/** A time in which the signal was below what is required at a good pressure, and came back by itself. The sweep's units, seconds. */
export interface Excursion {
  /** First reading below what is required, on the capture's clock. */
  atS: number;
  /** From that reading to the first that is good again. */
  seconds: number;
  /** Pressure that the first reading belongs to. */
  pressure: number;
  /** Lowest signal of it. */
  least: number;
}

/** One reading alone may be a spike; noise of the plateau goes no farther below what is required than this many deviations. */
const minReadings = 2;
const deviations = 4;
/**
 * A thirtieth of the tested pressures: in a sweep of a minute each way a lag that is wrong by two seconds moves a reading so far.
 */
const marginShare = 1 / 30;
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
  const margin = marginShare * (highest - lowest);
  const isInside = (p: number, margins = 1) => p > low.value + margins * margin && p < high.value - margins * margin;
  const isDropOut = (t: number) => dropOuts.some(({ atS, seconds }) => t >= atS && t <= atS + seconds);
  const isLow = (i: number) => signal[i]! < required.value;
  const gapS = longestGap({ time: elapsedS, value: signal });
  const found: Excursion[] = dropOuts
    .filter((each) => isInside(each.pressure, 0))
    .map(({ atS, seconds, pressure: at, least }) => ({ atS, seconds, pressure: at, least }));
  for (let from = 1; from < signal.length; from += 1) {
    if (!isLow(from) || isLow(from - 1)) continue;
    let to = from;
    while (to < signal.length && isLow(to)) to += 1;
    const run = signal.subarray(from, to);
    const least = run.reduce((a, b) => Math.min(a, b), Infinity);
    const isSeen = to < signal.length && !hasGap(elapsedS, from - 1, to, gapS);
    const flows = spans.every(
      ({ from_s, to_s, gas }) =>
        to_s <= elapsedS[from]! || from_s >= (elapsedS[to] ?? Infinity) || gas === 'flowing' || gas === 'unknown',
    );
    // What goes on to where the signal is bad anyway must have begun far from there.
    const stays = pressure.subarray(from, Math.min(to + 1, pressure.length)).every((p) => isInside(p));
    const begins = isInside(pressure[from]!, stays ? 1 : farMargins) && !isDropOut(elapsedS[from]!);
    if (isSeen && flows && begins && run.length >= minReadings && least < required.value - deviations * noise)
      found.push({
        atS: elapsedS[from]!,
        seconds: elapsedS[to]! - elapsedS[from]!,
        pressure: pressure[from]!,
        least,
      });
    from = to;
  }
  return found.sort((a, b) => a.atS - b.atS);
}
