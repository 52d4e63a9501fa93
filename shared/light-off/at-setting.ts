import type { Trial } from '../model/capture.ts';
import { convertPressure, type PressureUnit } from '../model/units.ts';
import { isLit } from '../model/trials/valid-trials.ts';
import { lowerBound } from '../numerics/binomial.ts';

/** A light-off trial as it is counted: without `sparkDelayS` nobody knows when the spark came. */
export type CountedTrial = Omit<Trial, 'sparkDelayS'> & { sparkDelayS?: number };

/** Trials of one kind at a setting. */
export interface TrialCount {
  trials: number;
  lit: number;
  /** One-sided Clopper-Pearson lower bound of the probability to light, at the confidence asked for. */
  lowerBound: number;
}

/** What the light-off trials at one pressure prove: only those within `tolerance` of it, plain and delayed apart. */
export interface LightOffAt {
  pressure: number;
  tolerance: number;
  plain: TrialCount;
  delayed: TrialCount & { longestDelay_s?: number };
  /** Those whose spark is neither: at an unknown moment, or delayed by less than half of the trial. Absent where there are none. */
  neither?: Pick<TrialCount, 'trials' | 'lit'>;
}

/** The trials at the pressure as left, or else at the set point; undefined where there is neither. */
export const settingOf = (
  proved: { atAsLeft?: LightOffAt; atSetPoint?: LightOffAt } | undefined,
): LightOffAt | undefined => proved?.atAsLeft ?? proved?.atSetPoint;

/**
 * Spark within so long of the gas counts as together, seconds: relays and valve of a control differ by tenths, a meter's interval
 * comes on top.
 */
const together = 1;

/** How the spark stood to the gas. `unknown`: nobody knows when it came; `between`: later than the gas but in the first half of the trial. */
export type SparkTiming = 'plain' | 'delayed' | 'between' | 'unknown';

/** Tells plain from delayed: delayed means at least half of the trial for ignition. Seconds; undefined when the moment is not known. */
export function sparkTiming(sparkDelayS: number | undefined, trialSeconds: number): SparkTiming {
  if (sparkDelayS === undefined) return 'unknown';
  if (sparkDelayS >= trialSeconds / 2) return 'delayed';
  return sparkDelayS <= together ? 'plain' : 'between';
}

/** Seconds from the gas to the spark as trials are compared by them: 0 for a spark at once, tenths for a later one. */
export const comparedDelay = (sparkDelayS: number): number =>
  sparkDelayS <= together ? 0 : Math.round(10 * sparkDelayS) / 10;

/** How far from a setting a trial may lie and still count there: a twentieth of the window's width, or the manometer's expanded uncertainty. */
export const toleranceAt = (windowWidth: number, expandedUncertainty: number): number =>
  Math.max(0.05 * Math.max(0, windowWidth), expandedUncertainty);

/** The trials within `tolerance` of a pressure, in the order in which they were made as far as that is known. Pressures in `unit`. */
export function trialsAt<T extends Pick<Trial, 'pressure' | 'unit' | 'elapsedS'>>(
  trials: readonly T[],
  unit: PressureUnit,
  pressure: number,
  tolerance: number,
): T[] {
  // A billionth more: a trial exactly at the tolerance must not fall out by a rounding error of a unit's factor.
  const near = trials.filter(
    (trial) => Math.abs(convertPressure(trial.pressure, trial.unit, unit) - pressure) <= tolerance + 1e-9,
  );
  return near.every(({ elapsedS }) => elapsedS !== undefined)
    ? near.toSorted((a, b) => a.elapsedS! - b.elapsedS!)
    : near;
}

/**
 * Counts the trials at one pressure.
 *
 * @param trials      valid trials only; pressures in any unit
 * @param confidence  of the lower bounds, for instance 0.95
 */
export function lightOffAt(
  trials: readonly CountedTrial[],
  setting: { unit: PressureUnit; pressure: number; tolerance: number },
  trialSeconds: number,
  confidence: number,
): LightOffAt {
  const { unit, pressure, tolerance } = setting;
  const near = trialsAt(trials, unit, pressure, tolerance);
  const count = (timing: SparkTiming): TrialCount => {
    const own = near.filter((trial) => sparkTiming(trial.sparkDelayS, trialSeconds) === timing);
    const lit = own.filter((trial) => isLit(trial, trialSeconds)).length;
    return { trials: own.length, lit, lowerBound: own.length === 0 ? 0 : lowerBound(lit, own.length, confidence) };
  };
  const delays = near.flatMap((trial) =>
    sparkTiming(trial.sparkDelayS, trialSeconds) === 'delayed' && isLit(trial, trialSeconds)
      ? [trial.sparkDelayS ?? 0]
      : [],
  );
  const neither = near.filter((trial) => !['plain', 'delayed'].includes(sparkTiming(trial.sparkDelayS, trialSeconds)));
  const lit = neither.filter((trial) => isLit(trial, trialSeconds)).length;
  return {
    pressure,
    tolerance,
    plain: count('plain'),
    delayed: { ...count('delayed'), ...(delays.length > 0 && { longestDelay_s: Math.max(...delays) }) },
    ...(neither.length > 0 && { neither: { trials: neither.length, lit } }),
  };
}
