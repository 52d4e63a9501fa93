import { settleS } from '../burner-state/trials/measure-trial.ts';
import type { CountedTrial } from '../light-off/at-setting.ts';
import type { Reading } from '../model/reading.ts';
import { convertPressure, type PressureUnit } from '../model/units.ts';

/**
 * Tells for each trial whether its pressure moved by more than twice the tolerance while gas flowed and the flame was not yet proved. A
 * trial whose time is not known, or without readings, is taken as it was entered.
 *
 * @param unit       of `tolerance`
 * @param tolerance  how far from a pressure a trial still counts there
 */
export function hasMoved(
  readings: readonly Reading[],
  unit: PressureUnit,
  trialSeconds: number,
  tolerance: number,
): (trial: CountedTrial) => boolean {
  const pressures = readings.filter(({ role, value }) => role === 'pilot_pressure' && Number.isFinite(value));
  return ({ elapsedS, timeToProveS }) => {
    if (elapsedS === undefined) return false;
    const untilS = elapsedS + (timeToProveS ?? trialSeconds);
    let [least, most] = [Infinity, -Infinity];
    for (const { elapsedS: at, value, unit: own } of pressures) {
      if (at < elapsedS + settleS || at > untilS) continue;
      const here = convertPressure(value, own as PressureUnit, unit);
      least = Math.min(least, here);
      most = Math.max(most, here);
    }
    return most - least > 2 * tolerance;
  };
}
