import type { AnalysisResult } from '../model/results/analysis-result.ts';
import { formatPressure } from '../model/format.ts';
import { type LightOffAt, lightOffAt, toleranceAt, trialsAt } from '../light-off/at-setting.ts';
import { countWords } from '../light-off/count-words.ts';
import { failedDelay, lateSparkWords, sparkWords } from '../light-off/delay-limit.ts';
import { lostClaimWords } from '../light-off/lost-claim.ts';
import { asksForTrials, type LightOffPlan, type PlanProgress, planProgress, planOf } from '../light-off/plan.ts';
import type { Study } from './study.ts';
import { expandedUncertainty } from './window/meter-uncertainty.ts';

/** What the light-off trials prove at the settings, and how far the plan is. */
export interface LightOffProof {
  atSetPoint?: LightOffAt;
  atAsLeft?: LightOffAt;
  /** At the pressure as left, or the set point where there is none; absent where there is neither. */
  progress?: PlanProgress;
  plan: LightOffPlan;
}

/** Counts the light-off trials at the set point and as left, each within its tolerance. */
export function proveLightOff(study: Study, setPoint: AnalysisResult['setPoint']): LightOffProof {
  const { settings, setup, sweep, trials, litAndFailed, lightOff } = study;
  // Where trials contradict each other at one setting there may be no window, and where none lit there is none: then the signal's counts.
  const hasNone = study.window.status === 'none' && (litAndFailed.amid.length > 0 || lightOff?.neverLit);
  const window = hasNone ? study.signalWindow : study.window;
  const { trialSeconds, confidence, asLeft } = settings;
  const unit = sweep.pressureUnit;
  const width = window.low && window.high ? window.high.value - window.low.value : 0;
  const settingAt = (pressure: number) => ({
    unit,
    pressure,
    tolerance: toleranceAt(width, expandedUncertainty(setup, unit, pressure)),
  });
  const countAt = (pressure: number) => lightOffAt(trials, settingAt(pressure), trialSeconds, confidence);
  const plan = planOf(setup);
  const proved = asLeft ?? setPoint?.value;
  return {
    plan,
    ...(setPoint && { atSetPoint: countAt(setPoint.value) }),
    ...(asLeft !== undefined && { atAsLeft: countAt(asLeft) }),
    ...(proved !== undefined && { progress: planProgress(plan, trials, settingAt(proved), trialSeconds) }),
  };
}

/** What the trials at a setting prove and what the plan still asks for, in words. Undefined where there is no setting. */
export function describeProof(
  { atSetPoint, atAsLeft, progress, plan }: LightOffProof,
  { sweep, settings, trials: all, litAndFailed }: Study,
): { at: string; counts: string; missing: string } | undefined {
  const found = atAsLeft ?? atSetPoint;
  if (!found || !progress) return undefined;
  const near = trialsAt(all, sweep.pressureUnit, found.pressure, found.tolerance);
  const uncounted = found.neither?.trials ?? 0;
  const counts = [
    ...countWords(found, settings.confidence),
    ...(uncounted === 0
      ? []
      : [
          `${uncounted === 1 ? 'one trial' : `${uncounted} trials`} with an unknown spark delay, or a short one, not counted`,
        ]),
  ];
  const { plain, delayed } = progress;
  const trials = (n: number, kind: string) => `${n} ${n === 1 ? 'trial' : 'trials'} ${kind}`;
  const missing = [
    ...(plain.got < plain.wanted ? [trials(plain.wanted - plain.got, 'with the spark at once')] : []),
    ...(delayed.got < delayed.wanted ? [trials(delayed.wanted - delayed.got, 'with the spark delayed')] : []),
  ].join(' and ');
  const tooLate = delayed.got < delayed.wanted ? failedDelay(near, near, settings.trialSeconds / 2) : undefined;
  const why = tooLate
    ? ` But it failed there ${sparkWords(tooLate)}: find out why before any ${lateSparkWords(tooLate)}.`
    : '';
  // A row starts anew after a failure; a claim is lost by it.
  const failed = progress.failed && 'probability' in plan ? lostClaimWords(plan, found.plain) : '';
  const unasked = asksForTrials(plan) ? '' : 'No light-off trials with the spark at once were asked for.';
  return {
    at: formatPressure(found.pressure, sweep.pressureUnit),
    counts: counts.join('; '),
    // Where trials lit and failed at one pressure, the first thing is to find out why.
    missing:
      litAndFailed.amid.length > 0
        ? ''
        : unasked || failed || (missing && `Still needed there, without a failure: ${missing}.${why}`),
  };
}
