import { settleS } from '../burner-state/trials/measure-trial.ts';
import type { CountedTrial } from '../light-off/at-setting.ts';
import type { Reading } from '../model/reading.ts';
import { convertPressure, type PressureUnit } from '../model/units.ts';

/** Gas was shut at most so long before the pressure has fallen half its way, seconds. */
const fallS = 1;

/**
 * Tells for each trial whether its pressure moved by more than twice the tolerance while gas flowed and the flame was not yet proved. A
 * trial whose time is not known, or without readings, is taken as it was entered; so is every one without a tolerance, as noise is no move.
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
  let pressures: Reading[] | undefined;
  return ({ elapsedS, timeToProveS, pressure, pressureBefore, unit: entered }) => {
    if (elapsedS === undefined || tolerance <= 0) return false;
    const untilS = elapsedS + (timeToProveS ?? trialSeconds);
    pressures ??= readings.filter(({ role, value }) => role === 'pilot_pressure' && Number.isFinite(value));
    const flowing = pressures
      .filter(({ elapsedS: at }) => at >= elapsedS + settleS && at <= untilS + fallS)
      .map(({ elapsedS: at, value, unit: own }) => ({ at, value: convertPressure(value, own as PressureUnit, unit) }));
    // The control, or the technician, may have shut the gas before the time was over: its fall is no move of the regulator.
    const half = convertPressure((pressure + (pressureBefore ?? 0)) / 2, entered, unit);
    const fallenS = flowing.find(({ value }) => value < half)?.at ?? Infinity;
    const endS = Math.min(untilS, fallenS - fallS);
    let [least, most] = [Infinity, -Infinity];
    for (const { at, value } of flowing) {
      if (at > endS) continue;
      least = Math.min(least, value);
      most = Math.max(most, value);
    }
    return most - least > 2 * tolerance;
  };
}
