import { type AnalysisResult, type Cause, decisions, type WindowEnd } from '../model/results/analysis-result.ts';
import { decide, limitingCauses } from './window/set-point.ts';

/**
 * The decision on the pressure as left, in the unit of the ends. A pass needs more than the window: the light-off plan met there; else
 * it is a conditional pass at best, and a conditional fail at best where a light-off failed and the plan has not been met since.
 *
 * @param isProved    the light-off plan is met there, and no trials elsewhere leave light-off in doubt
 * @param hasFailed   a light-off failed there, and the plan has not been met since
 * @param neverLit    trials were made there, and none lit anywhere
 * @param isDoubtful  the readings do not tell for sure what the burner did, or they speak against the setting
 */
export function decideAsLeft(
  asLeft: number,
  { low, high }: { low: WindowEnd; high: WindowEnd },
  { isProved, hasFailed, neverLit, isDoubtful }: Record<'isProved' | 'hasFailed' | 'neverLit' | 'isDoubtful', boolean>,
): Pick<NonNullable<AnalysisResult['asLeft']>, 'decision' | 'limitedBy'> {
  const byWindow = decide(asLeft, low, high);
  const limitedBy = new Set<Cause>(limitingCauses(asLeft, low, high));
  if (isDoubtful) limitedBy.add('signal');
  if (!isProved) limitedBy.add('light-off');
  const best = neverLit ? 'fail' : hasFailed ? 'conditional-fail' : limitedBy.size > 0 ? 'conditional-pass' : 'pass';
  const decision = decisions[Math.max(decisions.indexOf(byWindow), decisions.indexOf(best))]!;
  return { decision, ...(limitedBy.size > 0 && { limitedBy: [...limitedBy] }) };
}
