import { settingOf } from './at-setting.ts';
import { settingWords } from './count-words.ts';
import { lostClaimWords } from './lost-claim.ts';
import { successRun } from '../numerics/binomial.ts';
import { asksForTrials, countWords, type LightOffPlan, planOf, planProgress } from './plan.ts';
import type { AnalysisResult } from '../model/results/analysis-result.ts';
import type { Capture } from '../model/capture.ts';
import { formatConfidence, formatPercent } from '../model/format.ts';
import { judgedTrials, trialSecondsOf } from '../model/trials/valid-trials.ts';

/** How far the light-off plan is at the pressure as left, or else at the set point. */
export interface PlanAtSetting {
  met: boolean;
  /** "plan met" */
  verdict: 'plan met' | 'plan not met';
  /** "3 of 3 with the spark at once, 1 of 1 delayed"; of a claim that a failure has ended, that nothing meets it anymore. */
  counts: string;
  /** Both in a line: "plan met: 3 of 3 with the spark at once, 1 of 1 delayed" */
  short: string;
  /** The same as a sentence with the setting and what the plan asks for. */
  sentence: string;
}

/** Undefined where no trial was made or there is no setting. */
export function planAtSetting(
  { setup, trials }: Pick<Capture, 'setup' | 'trials'>,
  { lightOff, pressureUnit: unit }: Pick<AnalysisResult, 'lightOff' | 'pressureUnit'>,
): PlanAtSetting | undefined {
  const at = settingOf(lightOff);
  if (!at) return undefined;
  const plan = planOf(setup);
  const { plain, delayed, met, failed } = planProgress(
    plan,
    judgedTrials(trials, setup),
    { unit, ...at },
    trialSecondsOf(setup),
  );
  const isLost = failed && 'probability' in plan;
  // A claim counts no new row, as a plan of so many in a row does: numbers beside "nothing meets it" would ask for trials.
  const counts = isLost
    ? 'a trial failed there, and no further trial meets the claim'
    : [
        asksForTrials(plan)
          ? `${countWords(plain)} with the spark at once`
          : 'no trial with the spark at once is asked for',
        ...(delayed.wanted > 0 ? [`${countWords(delayed)} delayed`] : []),
      ].join(', ');
  const verdict: PlanAtSetting['verdict'] = met ? 'plan met' : 'plan not met';
  const asked =
    'probability' in plan
      ? `to show ${formatPercent(plan.probability)} at ${formatConfidence(plan.confidence)} confidence without a failure`
      : 'in a row without a failure';
  const where = `Light-off plan at ${settingWords(lightOff, unit)}`;
  const head = isLost ? `${where}: ${asked}` : `${where}: ${counts}, ${asked}`;
  const lost = isLost ? ` ${lostClaimWords(plan, at.plain)}` : '';
  return {
    met,
    verdict,
    counts,
    short: `${verdict}: ${counts}`,
    sentence: `${head}. The ${verdict === 'plan met' ? 'plan is met' : 'plan is not met'}.${lost}`,
  };
}

/** What a plan asks for at the setting: "3 in a row with the spark at once and 1 delayed, without a failure". */
export function askedWords(plan: LightOffPlan): string {
  const plain = 'probability' in plan ? successRun(plan.probability, plan.confidence) : plan.plain;
  const delayed = plan.delayed > 0 ? ` and ${plan.delayed} delayed` : '';
  return `${plain} in a row with the spark at once${delayed}, without a failure`;
}
