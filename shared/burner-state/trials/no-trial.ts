import { formatPressure } from '../../model/format.ts';
import { convertPressure } from '../../model/units.ts';
import type { MeasuredTrial } from './measure-trial.ts';
import type { TrialEvent } from './trial-follower.ts';

/**
 * A valve that opens lets the pressure rise to about where the pilot burned; a leak behind it, or a manometer whose zero shifts, raises it
 * by some hundredths (common practice). Less than this share of what it rises by to a burning pilot is no open valve.
 */
const leastShare = 0.1;
/** And less than this, inH2O, before a pilot has burned: none is set so low (common practice). */
const leastInH2O = 0.2;

/** No pilot lights on less gas than this, inH2O (common practice). */
const leastLit = 0.05;

/**
 * A damper that opens for a purge, or gas that creeps in, raises the pressure by less than this in any second, inH2O, and by less than this
 * share of the whole rise (common practice). Both, since a hand may turn the pressure up after the valve has opened, and a small pilot
 * rises by little.
 */
const mostSlow = { inH2O: 0.3, share: 0.35 };
/** Where a fan hardly shows before, no damper raises the pressure, inH2O. */
const leastFan = 0.1;

/** No valve shuts and no flame is lit again within so short a time, seconds: where the signal stays, the pressure alone was gone. */
const tappedForS = 1;

/**
 * Why what rose and fell was no trial, in words: the pressure has not fallen although gas was said to be shut, so that something else
 * raised it, as a fan that was started; or it rose too little or too slowly for an open valve and nothing burned. Undefined where it was
 * a trial; what lit was one where the pressure rose at all.
 *
 * @param why      why it is over
 * @param burning  pressure at which the pilot last burned, inH2O; undefined before that was seen
 * @param fanOnly  pressure of the fan alone as entered, inH2O: what rises from below only to there is a fan that was started
 */
export function noTrialWords(
  measured: MeasuredTrial,
  why: Extract<TrialEvent, { kind: 'over' }>['why'],
  { burning, fanOnly }: { burning: number | undefined; fanOnly: number | undefined },
): string | undefined {
  const { lit, steepest, rise: wholeRise, pressure, pressureBefore, pressureAfter, unit } = measured;
  if (measured.isSignalBefore && (measured.shutForS ?? Infinity) < tappedForS)
    return 'the pressure was gone for a moment and the flame burned on: a gauge that was tapped, or a hose that slipped';
  const from = Math.max(
    pressureBefore ?? -Infinity,
    fanOnly === undefined ? -Infinity : convertPressure(fanOnly, 'inH2O', unit),
  );
  const rise = pressure - from;
  // A signal without gas, as of a spark that is checked with the valve shut, proves no flame.
  if (lit)
    return rise < convertPressure(leastLit, 'inH2O', unit)
      ? 'the pressure did not rise: a signal without gas'
      : undefined;
  if (why === 'gas-shut' && pressureAfter === undefined) return 'the pressure did not fall when gas was shut';
  if (pressureBefore === undefined) return undefined;
  const isSlow = steepest < convertPressure(mostSlow.inH2O, 'inH2O', unit) && steepest < mostSlow.share * wholeRise;
  if (isSlow && pressureBefore >= convertPressure(leastFan, 'inH2O', unit))
    return 'the pressure rose more slowly than a valve lets it: a damper that opens, or a leak';
  const least =
    burning === undefined
      ? convertPressure(leastInH2O, 'inH2O', unit)
      : leastShare * (convertPressure(burning, 'inH2O', unit) - from);
  return rise < least
    ? `the pressure rose by no more than ${formatPressure(Math.max(0, rise), unit)}: a leak, or a zero that shifted`
    : undefined;
}
