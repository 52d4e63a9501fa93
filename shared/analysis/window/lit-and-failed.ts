import { hasLaterSpark } from '../../light-off/delay-limit.ts';
import { methodOf } from '../../light-off/agreed-method.ts';
import { toleranceAt } from '../../light-off/at-setting.ts';
import { planOf, planProgress } from '../../light-off/plan.ts';
import type { Trial } from '../../model/capture.ts';
import type { Setup } from '../../model/setup.ts';
import { convertPressure, type PressureUnit } from '../../model/units.ts';
import type { SignalInterval } from './ends/signal-interval.ts';
import { expandedUncertainty } from './meter-uncertainty.ts';

/** Pressures at which a trial failed beside one that lit. */
export interface LitAndFailed {
  /**
   * At one setting amid the good signal, without the plan met there since: chance or a fault of the burner decides there, so there is
   * nothing to set. Where an end of the signal is not known, only trials at one pressure count. Away from the pressure as left a later
   * spark that failed where earlier ones lit is no chance, but tells how far the spark may be delayed.
   */
  amid: number[];
  /**
   * Amid the good signal too, but away from the pressure as left, where a test that looks for failures was agreed: such a test returns to
   * pressures that lit until they fail, so these only end the window inside of them.
   */
  sought: number[];
  /** At pressures that the manometer does not tell apart, wherever they lie; not where only a later spark failed. */
  byChance: number[];
}

/**
 * Finds the pressures at which trials lit and failed.
 *
 * @param trials        those that count
 * @param setup         accuracy of the manometer, plan for light-off
 * @param unit          of `interval` and of the pressures returned
 * @param trialSeconds  length of the trial for ignition
 * @param asLeft        the pressure as left, if there is one, and how far from it a trial still counts there
 */
export function findLitAndFailed(
  trials: readonly Trial[],
  setup: Setup,
  { low, high }: Pick<SignalInterval, 'low' | 'high'>,
  {
    unit,
    trialSeconds,
    asLeft,
  }: { unit: PressureUnit; trialSeconds: number; asLeft?: { pressure: number; tolerance: number } },
): LitAndFailed {
  const at = trials.map((trial) => ({ ...trial, pressure: convertPressure(trial.pressure, trial.unit, unit) }));
  const lit = at.filter((trial) => trial.lit);
  const expandedAt = (pressure: number) => expandedUncertainty(setup, unit, pressure);
  const width = low && high ? high.value - low.value : 0;
  const middle = low && high && (low.value + high.value) / 2;
  // At the setting the plan counts: a late spark that fails there leaves it unproved. Without one any good pressure may become it.
  const isAtSetting = (pressure: number) => !asLeft || Math.abs(pressure - asLeft.pressure) <= asLeft.tolerance;
  const failedNear = (toleranceOf: (pressure: number) => number) =>
    at
      .filter((trial) => !trial.lit)
      .map((trial) => ({ trial, pressure: trial.pressure, tolerance: toleranceOf(trial.pressure) }))
      .filter(({ trial, pressure, tolerance }) =>
        lit
          .filter((other) => Math.abs(other.pressure - pressure) <= tolerance)
          .some((other) => isAtSetting(pressure) || !hasLaterSpark(trial, other)),
      );
  const amid = failedNear((pressure) => {
    if (middle === undefined) return expandedAt(pressure);
    return Math.abs(pressure - middle) < width / 4 ? toleranceAt(width, expandedAt(pressure)) : -Infinity;
  });
  const plan = planOf(setup);
  const unclear = amid
    .filter((setting) => !planProgress(plan, trials, { unit, ...setting }, trialSeconds).met)
    .map(({ pressure }) => pressure);
  const isSought = (pressure: number) =>
    asLeft !== undefined &&
    methodOf(setup.trialLimits ?? {}) !== undefined &&
    Math.abs(pressure - asLeft.pressure) > asLeft.tolerance;
  return {
    amid: unclear.filter((pressure) => !isSought(pressure)),
    sought: unclear.filter(isSought),
    byChance: failedNear(expandedAt).map(({ pressure }) => pressure),
  };
}
