import type { Trial } from '../model/capture.ts';
import { convertPressure, type PressureUnit } from '../model/units.ts';
import { firstIndexWhere } from '../numerics/search.ts';
import type { Study } from './study.ts';
import { keepOnly, outside, type Series } from './sweep/series/series.ts';

/** A trial at whose time the manometer came nowhere near its pressure; pressures in the unit of the sweep. */
export interface TrialElsewhere {
  pressure: number;
  atS: number;
  /** The reading about that time that came nearest to it. */
  nearest: number;
}

/** A clock of one's own and a note written down afterwards are off by some seconds. */
const aboutS = 5;
/** What is read off a display in a hurry is off by no more than this: inH2O, and share of the pressure. */
const leastInH2O = 0.05;
const leastShare = 0.05;
/** Fewer readings than this say nothing. */
const fewest = 3;

/** Before and after a valve moves its pressure may be on the way already, or still, seconds. */
const onTheWayS = 0.5;

/** Those of these trials whose pressure the manometer did not show when they are said to have been made, but in passing as the valve moved. */
export function madeElsewhere(
  { sweep, tracked, settings, tolerance }: Pick<Study, 'sweep' | 'tracked' | 'settings' | 'tolerance'>,
  trials: readonly Trial[],
): TrialElsewhere[] {
  const { wholePressure, pressureUnit: unit } = sweep;
  const passing = tracked.spans
    .filter(({ gas }) => gas === 'opening' || gas === 'closing')
    .map(({ from_s, to_s }) => ({ fromS: from_s - onTheWayS, toS: to_s }));
  const held = keepOnly(wholePressure, outside(wholePressure.time, passing, onTheWayS));
  return trialsElsewhere(trials, held, { unit, trialSeconds: settings.trialSeconds, tolerance });
}

/**
 * Trials whose pressure the manometer did not show within a trial's length of when they are written down: the pressure or the time is wrong, or
 * the trial was not made. A trial without a time, or without readings about it, is taken as it was entered.
 *
 * @param pressure      readings of the whole capture in the order of their times, in `unit`
 * @param trialSeconds  length of the trial for ignition
 * @param tolerance     how far from a pressure a trial still counts there, in `unit`
 */
export function trialsElsewhere(
  trials: readonly Trial[],
  { time, value }: Series,
  { unit, trialSeconds, tolerance }: { unit: PressureUnit; trialSeconds: number; tolerance: number },
): TrialElsewhere[] {
  return trials.flatMap(({ pressure: entered, unit: own, elapsedS: atS }) => {
    if (atS === undefined) return [];
    const pressure = convertPressure(entered, own, unit);
    const withinS = trialSeconds + aboutS;
    const first = firstIndexWhere(time.length, (i) => time[i]! >= atS - withinS);
    const end = firstIndexWhere(time.length, (i) => time[i]! > atS + withinS);
    if (end - first < fewest) return [];
    const nearest = value
      .subarray(first, end)
      .reduce((best, each) => (Math.abs(each - pressure) < Math.abs(best - pressure) ? each : best));
    const allowed = Math.max(2 * tolerance, leastShare * pressure, convertPressure(leastInH2O, 'inH2O', unit));
    return Math.abs(nearest - pressure) > allowed ? [{ pressure, atS, nearest }] : [];
  });
}
