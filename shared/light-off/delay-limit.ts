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
