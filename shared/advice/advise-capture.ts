import { detailOf } from '../analysis/analyze.ts';
import { describeProof, type LightOffProof, proveLightOff } from '../analysis/light-off-proof.ts';
import { settingOf } from '../light-off/at-setting.ts';
import { isDoubtful, provisionalReasons } from '../analysis/provisional.ts';
import { type Study, study } from '../analysis/study.ts';
import type { CaptureAdvice } from '../model/results/advice.ts';
import { lostClaimWords } from '../light-off/lost-claim.ts';
import { planAtSetting } from '../light-off/plan-at-setting.ts';
import { usualClaim } from '../light-off/plan.ts';
import type { AnalysisResult } from '../model/results/analysis-result.ts';
import type { Capture } from '../model/capture.ts';
import { formatConfidence, formatElapsed, formatPercent, formatPressure } from '../model/format.ts';
import { ok, type Outcome } from '../model/outcome.ts';
import type { Setup } from '../model/setup.ts';
import { unjudgedTrials } from '../model/trials/unjudged-trials.ts';
import { successRun } from '../numerics/binomial.ts';
import { advise } from './advise.ts';
import { limitsFrom, type Situation } from './situation.ts';

/**
 * The next light-off trial of a visit, from its sweep, its trials and its setup.
 *
 * @param setup  another setup than the capture's own, to try
 * Fails as `analyze` does.
 */
export function adviseCapture(capture: Capture, setup: Setup = capture.setup): Outcome<CaptureAdvice> {
  const studied = study(capture, setup);
  if (!studied.ok) return studied;
  const { result, lighting } = detailOf(studied.value);
  const proof = proveLightOff(studied.value, result.setPoint);
  const situation = situationOf(capture, studied.value, result, proof);
  const plan = planAtSetting({ setup, trials: capture.trials }, result);
  return ok({
    ...advise(situation),
    pressureUnit: situation.unit,
    proved: provedWords(studied.value, proof, situation.obstacles.length > 0),
    ...(plan && { plan: { met: plan.met, counts: plan.counts } }),
    ...(lighting && { lighting }),
  });
}

/** Everything that the advice is made from. */
function situationOf(capture: Capture, studied: Study, { setPoint }: AnalysisResult, proof: LightOffProof): Situation {
  const { setup, settings, sweep, trials, tested } = studied;
  const unit = sweep.pressureUnit;
  const at = settingOf(proof);
  const window = windowWithoutTrials(studied);
  return {
    unit,
    ...(at && {
      setting: {
        pressure: at.pressure,
        tolerance: at.tolerance,
        words: proof.atAsLeft ? 'the pressure as left' : 'the set point',
      },
    }),
    ...(window && { window }),
    tested: { low: tested[0], high: tested[1] },
    ...(settings.makerRange && { makerRange: settings.makerRange }),
    limits: limitsFrom(setup, unit),
    plan: proof.plan,
    trialSeconds: settings.trialSeconds,
    trials,
    moved: studied.hasMoved,
    obstacles: obstaclesOf(capture, studied, proof, setPoint?.value),
    notes: notesOf(capture, studied, trials.filter(studied.hasMoved), setPoint),
  };
}

/** The window by everything but light-off trials: signal, lost flames and an unsteady signal. */
function windowWithoutTrials({ signalWindow, window }: Study): Situation['window'] {
  const { low, high } = signalWindow;
  if (!low || !high) return undefined;
  const unsteady = window.evidence.filter(({ cause }) => cause === 'unsteady');
  const values = (side: 'low' | 'high') => unsteady.filter((each) => each.side === side).map(({ value }) => value);
  const [lows, highs] = [values('low'), values('high')];
  const found = {
    low: Math.max(low.value, ...lows),
    high: Math.min(high.value, ...highs),
    guarded: { low: Math.max(low.guarded, ...lows), high: Math.min(high.guarded, ...highs) },
  };
  return found.low < found.high ? found : undefined;
}

/** What must be settled before any trial: results that nobody entered, readings that do not tell what the burner did. */
function obstaclesOf(
  capture: Capture,
  studied: Study,
  { plan, progress, ...proved }: LightOffProof,
  setPoint: number | undefined,
): string[] {
  const unjudged = unjudgedTrials(capture.marks, capture.trials).map(({ fromS }) => formatElapsed(fromS));
  const reasons = provisionalReasons(studied, setPoint);
  const plain = settingOf(proved)?.plain;
  return [
    ...(unjudged.length > 0
      ? [`A trial has no result: the one at ${unjudged.join(', ')} (min:s). Enter or discard it first.`]
      : []),
    ...(studied.litAndFailed.amid.length > 0
      ? [
          [
            'Light-off trials lit and failed at the same pressure, or nearly so. Find out why before any further trial.',
            ...('probability' in plan
              ? progress?.failed && plain
                ? [lostClaimWords(plan, plain)]
                : []
              : ['The plan counts only trials after a failure.']),
          ].join(' '),
        ]
      : []),
    ...(isDoubtful(studied)
      ? [
          `The readings leave doubt about what the burner did: ${reasons[0] ?? 'no flame was seen'}. Find out why; then begin the sweep again, or discard it with a reason.`,
        ]
      : []),
  ];
}

/** What to know beside the advice: entries that do not count, and a setting that may still move. */
function notesOf(
  capture: Capture,
  { sweep, trials, settings, litAndFailed }: Study,
  moved: Study['trials'],
  setPoint: AnalysisResult['setPoint'],
): string[] {
  const discarded = capture.trials.filter(({ corrects }) => corrects === undefined).length - trials.length;
  const at = moved.map(({ pressure, unit }) => formatPressure(pressure, unit)).join(', ');
  const sought = [...new Set(litAndFailed.sought)].map((pressure) => formatPressure(pressure, sweep.pressureUnit));
  const unknown = trials.filter(({ sparkDelayS }) => sparkDelayS === undefined).length;
  return [
    ...(discarded > 0
      ? [
          discarded === 1
            ? '1 trial was discarded and counts nowhere.'
            : `${discarded} trials were discarded and count nowhere.`,
        ]
      : []),
    ...(moved.length > 0
      ? [
          `The pressure changed during the trial entered at ${at}, so it is not known at which pressure that trial lit or failed. It counts no margin further out.`,
        ]
      : []),
    ...(sought.length > 0
      ? [
          `It lights sometimes at ${sought.join(', ')}: it lit and failed there, which the test that was agreed looks for. The window ends inside of that.`,
        ]
      : []),
    ...(unknown > 0
      ? [
          unknown === 1
            ? 'Nobody knows when the spark of one trial came, so the plan does not count it.'
            : `Nobody knows when the sparks of ${unknown} trials came, so the plan does not count them.`,
        ]
      : []),
    ...(settings.asLeft === undefined && setPoint?.provisional
      ? [
          `The set point of ${formatPressure(setPoint.value, sweep.pressureUnit)} is provisional; trials there may have to be made again.`,
        ]
      : []),
  ];
}

/**
 * What the trials at the setting prove; and what the plan still needs and how many more would show the usual claim, but for where no trial
 * may be made.
 */
function provedWords(studied: Study, proof: LightOffProof, isStopped: boolean): string {
  const words = describeProof(proof, studied);
  const plain = settingOf(proof)?.plain;
  if (!words || !plain) return 'Nothing is proved: there is no setting.';
  const counts = `At ${words.at}: ${words.counts || 'no trial was made there'}.`;
  if (isStopped) return counts;
  const more = successRun(usualClaim.probability, usualClaim.confidence) - plain.trials;
  const claim = `${formatPercent(usualClaim.probability)} at ${formatConfidence(usualClaim.confidence)} confidence`;
  return [
    counts,
    words.missing,
    ...(plain.lit === plain.trials && more > 0
      ? [`With the spark at once ${more} more without a failure would show ${claim}.`]
      : []),
  ]
    .filter(Boolean)
    .join(' ');
}
