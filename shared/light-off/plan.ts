import type { PressureUnit } from '../model/units.ts';
import { successRun } from '../numerics/binomial.ts';
import { isLit } from '../model/trials/valid-trials.ts';
import { type CountedTrial, sparkTiming, trialsAt } from './at-setting.ts';

/** So many successes in a row at the setting, plain and delayed. */
export interface RowPlan {
  plain: number;
  delayed: number;
}
/** A claim about the probability to light, to be shown by trials without any failure, and delayed trials beside it. */
export interface ClaimPlan {
  probability: number;
  confidence: number;
  delayed: number;
}
export type LightOffPlan = RowPlan | ClaimPlan;

/** Three plain trials and one with the spark delayed (common practice); the maker or the code in force may ask for more. */
export const usualPlan: RowPlan = { plain: 3, delayed: 1 };

/** The plan of a setup, or the usual one. */
export const planOf = ({ lightOffPlan }: { lightOffPlan?: LightOffPlan | undefined }): LightOffPlan =>
  lightOffPlan ?? usualPlan;

/** Common choice of what a row without a failure is to show beyond the plan: 90 % at 90 % confidence, 22 trials. */
export const usualClaim = { probability: 0.9, confidence: 0.9 };

/** The probability to light that is wanted: that of a claim, or the usual one. */
export const wantedProbability = (plan: LightOffPlan): number =>
  'probability' in plan ? plan.probability : usualClaim.probability;

/** Whether a plan asks for trials with the spark at once. One that does not is no plan: nothing meets it, and nothing is proved by it. */
export const asksForTrials = (plan: LightOffPlan): boolean => 'probability' in plan || plan.plain > 0;

/** How far a plan is. */
export interface PlanProgress {
  /** Successes wanted, and those that count so far. */
  plain: { wanted: number; got: number };
  delayed: { wanted: number; got: number };
  met: boolean;
  /** A trial failed at the setting, and the plan has not been met since; a claim allows no failure, so that nothing undoes it. */
  failed: boolean;
}

/** "3 of 3": trials beyond what is asked for are not counted. */
export const countWords = ({ got, wanted }: { got: number; wanted: number }): string =>
  `${Math.min(got, wanted)} of ${wanted}`;

/**
 * How far the plan is at a setting. A row starts anew after any failure there, plain or delayed; a claim allows no failure at all
 * (success-run theorem).
 *
 * @param trials  valid trials only
 */
export function planProgress(
  plan: LightOffPlan,
  trials: readonly CountedTrial[],
  setting: { unit: PressureUnit; pressure: number; tolerance: number },
  trialSeconds: number,
): PlanProgress {
  const near = trialsAt(trials, setting.unit, setting.pressure, setting.tolerance);
  const lastFailure = near.findLastIndex((trial) => !isLit(trial, trialSeconds));
  const row = near.slice(lastFailure + 1);
  const got = (timing: 'plain' | 'delayed') =>
    row.filter(({ sparkDelayS }) => sparkTiming(sparkDelayS, trialSeconds) === timing).length;
  const isClaim = 'probability' in plan;
  const plain = { wanted: isClaim ? successRun(plan.probability, plan.confidence) : plan.plain, got: got('plain') };
  const delayed = { wanted: plan.delayed, got: got('delayed') };
  const hasFailed = lastFailure >= 0;
  const isEnough = asksForTrials(plan) && plain.got >= plain.wanted && delayed.got >= delayed.wanted;
  const met = isEnough && !(isClaim && hasFailed);
  return { plain, delayed, failed: hasFailed && !met, met };
}
