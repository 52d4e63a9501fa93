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
   * nothing to set. Where an end of the signal is not known, only trials at one pressure count.
   */
  amid: number[];
  /**
   * Amid the good signal too, but away from the pressure as left, where a test that looks for failures was agreed: such a test returns to
   * pressures that lit until they fail, so these only end the window inside of them.
   */
  sought: number[];
  /** At pressures that the manometer does not tell apart, wherever they lie. */
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
  const at = trials.map(({ lit, pressure, unit: own }) => ({ lit, pressure: convertPressure(pressure, own, unit) }));
  const lit = at.filter((trial) => trial.lit);
  const expandedAt = (pressure: number) => expandedUncertainty(setup, unit, pressure);
  const failedNear = (toleranceOf: (pressure: number) => number) =>
    at
      .filter((trial) => !trial.lit)
      .map(({ pressure }) => ({ pressure, tolerance: toleranceOf(pressure) }))
      .filter(({ pressure, tolerance }) => lit.some((other) => Math.abs(other.pressure - pressure) <= tolerance));
  const amid = failedNear((pressure) => {
    if (!low || !high) return expandedAt(pressure);
    const width = high.value - low.value;
    const isAmid = Math.abs(pressure - (low.value + high.value) / 2) < width / 4;
    return isAmid ? toleranceAt(width, expandedAt(pressure)) : -Infinity;
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
