import { formatPressure, formatSeconds } from '../model/format.ts';
import { convertPressure, type PressureUnit } from '../model/units.ts';
import { comparedDelay, type CountedTrial } from './at-setting.ts';

/** A pressure at which a later spark failed and an earlier one lit. Times from the gas to the spark, seconds. */
export interface DelayLimit {
  pressure: number;
  /** The latest spark that lit there. */
  litS: number;
  failedS: number;
}

/**
 * Whether a trial failed with a later spark than that of one that lit. Gas collects until the spark, and a mixture grown too rich does not
 * light, so the two do not contradict each other. A delay that nobody knows explains nothing.
 */
export const hasLaterSpark = (
  failed: Pick<CountedTrial, 'sparkDelayS'>,
  lit: Pick<CountedTrial, 'sparkDelayS'>,
): boolean =>
  failed.sparkDelayS !== undefined &&
  lit.sparkDelayS !== undefined &&
  comparedDelay(failed.sparkDelayS) > comparedDelay(lit.sparkDelayS);

/**
 * Finds the failures beside which, at the same pressure, only earlier sparks lit: what they show is how far the spark may be delayed there.
 *
 * @param trials       those that count
 * @param toleranceAt  how far apart pressures are still one, in `unit`
 */
export function delayLimits(
  trials: readonly CountedTrial[],
  unit: PressureUnit,
  toleranceAt: (pressure: number) => number,
): DelayLimit[] {
  const at = trials.map((trial) => ({ ...trial, pressure: convertPressure(trial.pressure, trial.unit, unit) }));
  const lit = at.filter((trial) => trial.lit);
  return at
    .filter((trial) => !trial.lit)
    .flatMap((failed) => {
      const beside = lit.filter(({ pressure }) => Math.abs(pressure - failed.pressure) <= toleranceAt(failed.pressure));
      if (beside.length === 0 || !beside.every((trial) => hasLaterSpark(failed, trial))) return [];
      const litS = Math.max(...beside.map(({ sparkDelayS }) => sparkDelayS!));
      return [{ pressure: failed.pressure, litS, failedS: failed.sparkDelayS! }];
    });
}

/**
 * The failure that speaks against a spark as late as `delayS` at the setting: one with a delayed spark no later than that, the earliest first,
 * or one whose spark nobody knows; not where one as late has lit at the setting since. What did not light after so long is not to be asked
 * for again, at any pressure: each such trial leaves all the gas of its delay in the furnace.
 *
 * @param trials     those that count, at whatever pressure, in the order in which they were made
 * @param atSetting  those of them at the setting
 * @param delayS     seconds from the gas to the spark
 */
export function failedDelay(
  trials: readonly CountedTrial[],
  atSetting: readonly CountedTrial[],
  delayS: number,
): CountedTrial | undefined {
  const wanted = comparedDelay(delayS);
  const lastLit = trials.findLastIndex(
    (trial) =>
      trial.lit &&
      trial.sparkDelayS !== undefined &&
      comparedDelay(trial.sparkDelayS) >= wanted &&
      atSetting.includes(trial),
  );
  const delayOf = ({ sparkDelayS }: CountedTrial) =>
    sparkDelayS === undefined ? Infinity : comparedDelay(sparkDelayS);
  return trials
    .slice(lastLit + 1)
    .filter(
      (trial) => !trial.lit && (trial.sparkDelayS === undefined || (delayOf(trial) > 0 && delayOf(trial) <= wanted)),
    )
    .toSorted((a, b) => delayOf(a) - delayOf(b))[0];
}

/**
 * The latest spark of the failures at one setting that nothing answers: none as late has lit there since. Seconds from the gas to the spark;
 * undefined where there is none. A row of earlier sparks shows nothing of what failed then.
 *
 * @param atSetting  the trials there that count, in the order in which they were made
 */
export function unansweredDelay(atSetting: readonly CountedTrial[]): number | undefined {
  const delayOf = ({ sparkDelayS }: CountedTrial) => (sparkDelayS === undefined ? 0 : comparedDelay(sparkDelayS));
  const open = atSetting.filter(
    (failed, i) =>
      !failed.lit &&
      delayOf(failed) > 0 &&
      !atSetting.slice(i + 1).some((trial) => trial.lit && delayOf(trial) >= delayOf(failed)),
  );
  return open.length === 0 ? undefined : Math.max(...open.map(delayOf));
}

/** "with the spark 3.0 s after gas", as a part of a sentence. */
export const sparkWords = ({ sparkDelayS }: Pick<CountedTrial, 'sparkDelayS'>): string =>
  sparkDelayS === undefined
    ? 'with a spark at an unknown moment'
    : `with the spark ${formatSeconds(sparkDelayS)} after gas`;

/** Which sparks a failure speaks against, as a part of a sentence: "spark that late". */
export const lateSparkWords = ({ sparkDelayS }: Pick<CountedTrial, 'sparkDelayS'>): string =>
  sparkDelayS === undefined ? 'delayed spark' : 'spark that late';

/** "lit with the spark 0.0 s after gas, not 3.0 s after gas, at 2.90 inH2O", as the rest of a sentence. */
export const delayLimitWords = (limits: readonly DelayLimit[], unit: PressureUnit): string =>
  [
    ...new Set(
      limits.map(
        ({ pressure, litS, failedS }) =>
          `with the spark ${formatSeconds(litS)} after gas, not ${formatSeconds(failedS)} after gas, at ${formatPressure(pressure, unit)}`,
      ),
    ),
  ].join('; ');
