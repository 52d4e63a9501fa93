import { settingOf } from '../../light-off/at-setting.ts';
import { settingWords } from '../../light-off/count-words.ts';
import { lostClaimWords } from '../../light-off/lost-claim.ts';
import { planProgress, planOf } from '../../light-off/plan.ts';
import type { AnalysisResult } from '../../model/results/analysis-result.ts';
import type { Capture } from '../../model/capture.ts';
import { formatConfidence, formatPercent } from '../../model/format.ts';
import { judgedTrials, trialSecondsOf } from '../../model/trials/valid-trials.ts';

/** How far the light-off plan is at the pressure as left, or else at the set point. */
export interface PlanAtSetting {
  met: boolean;
  /** "plan met: 3 of 3 with the spark at once, 1 of 1 delayed" */
  short: string;
  /** The same as a sentence with the setting and what the plan asks for. */
  sentence: string;
}

/** Undefined where no trial was made or there is no setting. */
export function planAtSetting(
  { setup, trials }: Pick<Capture, 'setup' | 'trials'>,
  { lightOff, pressureUnit: unit }: AnalysisResult,
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
  const of = ({ got, wanted }: { got: number; wanted: number }) => `${Math.min(got, wanted)} of ${wanted}`;
  const counts = [
    `${of(plain)} with the spark at once`,
    ...(delayed.wanted > 0 ? [`${of(delayed)} delayed`] : []),
  ].join(', ');
  const verdict = met ? 'plan met' : 'plan not met';
  const asked =
    'probability' in plan
      ? `to show ${formatPercent(plan.probability)} at ${formatConfidence(plan.confidence)} confidence without a failure`
      : 'in a row without a failure';
  const lost = failed && 'probability' in plan ? ` ${lostClaimWords(plan, at.plain)}` : '';
  return {
    met,
    short: `${verdict}: ${counts}`,
    sentence: `Light-off plan at ${settingWords(lightOff, unit)}: ${counts}, ${asked}. ${met ? 'The plan is met.' : 'The plan is not met.'}${lost}`,
  };
}
