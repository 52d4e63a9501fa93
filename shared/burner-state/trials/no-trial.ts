import { formatPressure } from '../../model/format.ts';
import { convertPressure } from '../../model/units.ts';
import type { MeasuredTrial } from './measure-trial.ts';
import type { TrialEvent } from './trial-follower.ts';

/**
 * A valve that opens lets the pressure rise to about where the pilot burned; a leak behind it, or a manometer whose zero shifts, raises it
 * by some hundredths (common practice). Less than this share of what it rises by to a burning pilot is no open valve.
 */
const leastShare = 0.1;

/**
 * Why what rose and fell was no trial, in words: the pressure has not fallen although gas was said to be shut, so that something else
 * raised it, as a fan that was started; or it rose too little for an open valve and nothing burned. Undefined where it was a trial; what lit was one.
 *
 * @param why              why it is over
 * @param burningPressure  at which the pilot last burned, inH2O; undefined before that was seen
 */
export function noTrialWords(
  { lit, pressure, pressureBefore, pressureAfter, unit }: MeasuredTrial,
  why: Extract<TrialEvent, { kind: 'over' }>['why'],
  burningPressure: number | undefined,
): string | undefined {
  if (lit) return undefined;
  if (why === 'gas-shut' && pressureAfter === undefined) return 'the pressure did not fall when gas was shut';
  if (burningPressure === undefined || pressureBefore === undefined) return undefined;
  const rise = pressure - pressureBefore;
  const toBurning = convertPressure(burningPressure, 'inH2O', unit) - pressureBefore;
  return rise < leastShare * toBurning
    ? `the pressure rose by no more than ${formatPressure(rise, unit)}: a leak, or a zero that shifted`
    : undefined;
}
