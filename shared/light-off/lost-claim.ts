import { formatConfidence, formatPercent } from '../model/format.ts';
import { lowerBound } from '../numerics/binomial.ts';
import type { TrialCount } from './at-setting.ts';
import type { ClaimPlan } from './plan.ts';

/**
 * What is said of a claim after a failure at the setting. The plan allows none, so nothing meets it anymore; what the count shows in spite
 * of the failure is said beside it.
 *
 * @param plain  all trials with the spark at once there, those before the failure too
 * The count shows the claim where the one-sided Clopper-Pearson bound at the confidence of the plan reaches its probability.
 */
export function lostClaimWords(
  { probability, confidence }: ClaimPlan,
  { trials, lit }: Pick<TrialCount, 'trials' | 'lit'>,
): string {
  const claim = `${formatPercent(probability)} at ${formatConfidence(confidence)} confidence`;
  const lost = `The plan asks for a row without any failure and a trial failed there: by the plan ${claim} cannot be claimed anymore, whatever follows.`;
  const isShown = trials > 0 && lowerBound(lit, trials, confidence) >= probability;
  return isShown
    ? `${lost} By their count alone, ${lit} of ${trials} lit with the spark at once do show ${claim}.`
    : lost;
}
