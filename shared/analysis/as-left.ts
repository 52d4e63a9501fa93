import { type AnalysisResult, type Cause, decisions, type WindowEnd } from '../model/results/analysis-result.ts';
import type { SignalInterval } from './window/ends/signal-interval.ts';
import { decide, limitingCauses } from './window/set-point.ts';
import type { Evidence, Window } from './window/window.ts';

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

/** Whether a setting lies beyond an end: beyond its value, or beyond all of its interval. */
const isBeyond = ({ side, value, ci }: Evidence, setting: number, by: 'value' | 'interval'): boolean =>
  side === 'low'
    ? setting < (by === 'value' ? value : Math.min(value, ci?.[0] ?? value))
    : setting > (by === 'value' ? value : Math.max(value, ci?.[1] ?? value));

/**
 * The decision on the pressure as left where there is no window: never a pass. Where the evidence leaves no pressure between its ends, it
 * fails beyond any of them by more than that end's interval; where the signal reaches what is required at no pressure, it fails once that is
 * certain, and if the pressure was among those tested. Undefined where nothing is known of that pressure.
 *
 * @param tested  lowest and highest tested pressure, widened by what two pressures of one setting may differ, in the unit of `asLeft`
 * Source: ILAC-G8:09/2019, 4.2.3 (non-binary statement with guard band).
 */
export function decideWithoutWindow(
  asLeft: number,
  { evidence }: Pick<Window, 'evidence'>,
  { plateau, required }: { plateau: Pick<SignalInterval['plateau'], 'ci'>; required: SignalInterval['required'] },
  tested: readonly [number, number],
): Pick<NonNullable<AnalysisResult['asLeft']>, 'decision' | 'limitedBy'> | undefined {
  const beyond = evidence.filter((each) => isBeyond(each, asLeft, 'value'));
  if (beyond.length > 0) {
    const isSure = beyond.some((each) => isBeyond(each, asLeft, 'interval'));
    const limitedBy = [...new Set(beyond.map(({ cause }) => cause))];
    return { decision: isSure ? 'fail' : 'conditional-fail', limitedBy };
  }
  if (evidence.length > 0 || asLeft < tested[0] || asLeft > tested[1]) return undefined;
  return { decision: plateau.ci[1] < required.value ? 'fail' : 'conditional-fail', limitedBy: ['signal'] };
}
