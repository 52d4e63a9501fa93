import type { BurnerView, CaptureView } from '../../shared/contract/api.ts';
import { purgeMissing } from '../../shared/burner-state/purge-clock.ts';
import {
  enterResultWords,
  isUnpurged,
  moreAirWords,
  notLitWords,
  withoutGasWords,
} from '../../shared/burner-state/trials/readiness.ts';
import { mustShutGas, trialWords } from '../../shared/burner-state/trials/trial-words.ts';
import { isTurned } from '../../shared/burner-state/permissions.ts';
import { comesIn, isGasOn, isSignalWithoutGas } from '../../shared/model/burner-words.ts';
import type { CaptureAdvice } from '../../shared/model/results/advice.ts';
import type { AnalysisResult } from '../../shared/model/results/analysis-result.ts';
import { isSweeping, sweepsOf } from '../../shared/model/sweeps.ts';
import { unjudgedTrials } from '../../shared/model/trials/unjudged-trials.ts';
import { lastLitOf, validTrials } from '../../shared/model/trials/valid-trials.ts';
import type { Place } from './workbench.ts';

/** The steps of a visit in order, with their names. */
export const steps: { place: Exclude<Place, 'earlier'>; name: string }[] = [
  { place: 'burner', name: 'Burner' },
  { place: 'meters', name: 'Meters' },
  { place: 'sweep', name: 'Sweep' },
  { place: 'light-off', name: 'Light-off' },
  { place: 'window', name: 'Window' },
  { place: 'set', name: 'Set' },
  { place: 'proof', name: 'Proof' },
];

/** What the steps of a visit depend on. */
export interface VisitProgress {
  burnerNamed: boolean;
  pressureLive: boolean;
  signalLive: boolean;
  capture: CaptureView | undefined;
  /** What the burner does now; undefined while nobody has said. */
  burner: BurnerView | undefined;
  /** The analysis of what is on record now, and whether it is being calculated. */
  analysis: KnownAnalysis | undefined;
  isCalculating: boolean;
  /** The trial that is advised next, as far as this page knows; null where none is, undefined where nobody has asked. */
  nextTrial?: CaptureAdvice['next'] | undefined;
  /** None is, although the plan asks for more. */
  stopsShort?: boolean;
  /** Which trial is advised next is being calculated. */
  isAdvising?: boolean;
}

/** What the steps ask of an analysis. */
interface KnownAnalysis {
  result: Pick<AnalysisResult, 'window' | 'setPoint' | 'asLeft'> & { lightOff?: { planMet?: boolean | undefined } };
}

const has = (capture: CaptureView | undefined, kind: CaptureView['marks'][number]['kind']) =>
  capture?.marks.some((mark) => mark.kind === kind) ?? false;

/** Whether a sweep was ended that counts. */
const hasSweep = (capture: CaptureView | undefined): boolean =>
  sweepsOf(capture?.marks ?? []).some(({ toS, isVoid }) => toS < Infinity && !isVoid);

/** The steps that are done. */
export function doneSteps({ burnerNamed, pressureLive, signalLive, capture, analysis }: VisitProgress): Set<Place> {
  const done = new Set<Place>();
  if (burnerNamed) done.add('burner');
  if ((pressureLive && signalLive) || capture?.status === 'complete') done.add('meters');
  // A file from elsewhere has no marks: what it shows tells whether there was a sweep.
  if (hasSweep(capture) || (capture?.status === 'complete' && analysis)) done.add('sweep');
  if (analysis?.result.lightOff?.planMet) done.add('light-off');
  if (analysis?.result.setPoint) done.add('window');
  if (has(capture, 'as-left') || capture?.setup.asLeftPressure) done.add('set');
  if (capture?.status === 'complete') done.add('proof');
  return done;
}

/** Whether the regulator was turned, so that as-found cannot be taken anymore. */
const isTurnedIn = (capture: CaptureView): boolean => capture.regulatorTurned === true || isTurned(capture.marks);

/** As-found was not taken, and still can be: the regulator has not been turned. */
export const isAsFoundDue = (capture: CaptureView): boolean => !has(capture, 'as-found') && !isTurnedIn(capture);

/** Whether gas flows and a flame burns, steadily or, near an end of the window, not. */
const burns = (burner: BurnerView | undefined): boolean =>
  burner !== undefined && burner.gas === 'flowing' && (burner.flame === 'burning' || burner.flame === 'unsteady');

/** A meter that repeats itself or sends no number says nothing of now: it is looked at before anything else. */
function meterTrouble(burner: BurnerView | undefined): string | undefined {
  if (burner?.pressureTrouble) return 'Check the manometer';
  return burner?.signalTrouble && 'Check the flame signal meter';
}

/** Gas is shut, and the purge that the next lighting needs is not over. */
const isPurgeDue = (burner: BurnerView | undefined): boolean =>
  burner?.gas === 'shut' && purgeMissing(burner.purge, burner.purge.wantedS) > 0;

/** What a sweep asks for now: without a flame there is nothing to turn for. */
function sweepStep(burner: BurnerView | undefined): { place: Place; label: string } {
  if (burns(burner)) return { place: 'sweep', label: 'Turn slowly out and in, then end the sweep' };
  const isUnknown = !burner || burner.gas === 'unknown' || burner.flame === 'unknown';
  if (isUnknown) return { place: 'sweep', label: 'Flame not known: do not turn' };
  if (isPurgeDue(burner)) return { place: 'light-off', label: 'Purge, then relight the pilot' };
  return burner.gas === 'shut'
    ? { place: 'light-off', label: 'Relight the pilot, or end the sweep' }
    : { place: 'sweep', label: 'No flame: do not turn' };
}

const shutNow = 'Shut the gas now, then purge';

/** What a trial that is not in the record yet asks for: with its gas shut there is nothing to watch. */
function trialLabel(
  { gasS, over, undecided, purgeShort, sparkDelayS }: NonNullable<CaptureView['runningTrial']>,
  burner: BurnerView | undefined,
): string {
  if (gasS === undefined || undecided) return 'Enter whether the pilot lit';
  // What the trial's own words say but for its clock, which runs there.
  const now = { elapsedS: 0, trialSeconds: Infinity, sparkDelayS, sawGas: true, tooEarly: purgeShort !== undefined };
  if (burner && trialWords({ ...now, burner }).kind === 'danger') return shutNow;
  const isShut = over === 'gas-shut' || burner?.gas === 'shut' || burner?.gas === 'closing';
  return isShut ? 'Trial over: it is being recorded' : 'Watch the light-off trial';
}

/** Why nobody lights the pilot now although gas is shut and purged; undefined where nothing is against it. */
function againstLighting(burner: BurnerView, capture: CaptureView): string | undefined {
  if (burner.moreAir) return moreAirWords;
  if (isSignalWithoutGas(burner)) return withoutGasWords;
  return lastLitOf(capture) === false ? notLitWords : undefined;
}

/** The one next thing to do, and where. Undefined when the visit is over. */
export function nextStep(facts: VisitProgress): { place: Place; label: string } | undefined {
  const { burnerNamed, pressureLive, signalLive, capture, burner, analysis } = facts;
  if (capture?.status === 'complete') return undefined;
  if (capture?.status === 'interrupted')
    return {
      place: 'earlier',
      label: capture.recordedHere ? 'Continue or complete the interrupted capture' : 'Complete the interrupted capture',
    };
  if (!pressureLive && !signalLive) return { place: 'meters', label: 'Connect both meters' };
  if (!pressureLive) return { place: 'meters', label: 'Connect the manometer' };
  if (!signalLive) return { place: 'meters', label: 'Connect the flame signal meter' };
  // Whatever else is to be done, nobody relights before that; only once the pressure as left is recorded may all be over.
  const isPurging = isPurgeDue(burner) && capture && !has(capture, 'as-left') && !capture.runningTrial;
  if (isPurging && burner?.purge.mayHaveBurned)
    return { place: 'light-off', label: 'Gas off, hose on? Look, and say so' };
  if (isPurging && !isSweeping(capture.marks)) return { place: 'light-off', label: 'Purge, then light the pilot' };
  const nameIt: ReturnType<typeof nextStep> = { place: 'burner', label: 'Enter the burner’s name' };
  if (!capture) return burnerNamed ? { place: 'sweep', label: 'Start recording' } : nameIt;
  if (capture.runningTrial) return { place: 'light-off', label: trialLabel(capture.runningTrial, burner) };
  const trouble = meterTrouble(burner);
  if (trouble) return { place: 'meters', label: `${trouble}. Do not turn` };
  if (isSweeping(capture.marks)) return sweepStep(burner);
  if (burner?.trialGas && !burner.alarm) return { place: 'light-off', label: 'Watch the light-off trial' };
  // A flame that is lost raises the alarm, which says so.
  if (burner && comesIn(burner.gas) && burner.flame !== 'lost' && mustShutGas(burner, lastLitOf(capture)))
    return { place: 'light-off', label: shutNow };
  // Whoever saw it still knows; later nobody does.
  if (burner?.gas === 'shut' && unjudgedTrials(capture.marks, capture.trials, true).length > 0)
    return { place: 'light-off', label: enterResultWords };
  // Once the regulator has been turned it is too late, and nothing asks for it anymore.
  const isTaken = has(capture, 'as-found');
  const isMissed = !isTaken && isTurnedIn(capture);
  const isShut = burner?.gas === 'shut';
  if (burner && isUnpurged(burner, capture.trials) && (!hasSweep(capture) || isAsFoundDue(capture)))
    return { place: 'light-off', label: 'Purge, then light the pilot' };
  const against =
    isShut && (!hasSweep(capture) || isAsFoundDue(capture)) ? againstLighting(burner, capture) : undefined;
  if (against) return { place: 'light-off', label: against };
  if (isAsFoundDue(capture))
    return {
      place: 'sweep',
      label: isShut ? 'Light the pilot, then record as-found' : 'Record as-found before turning anything',
    };
  if (!hasSweep(capture)) {
    const begin = isShut ? 'Light the pilot, then begin the sweep' : 'Begin the sweep';
    return { place: 'sweep', label: isMissed ? `As-found was not taken. ${begin}` : begin };
  }
  if (validTrials(capture.trials).length === 0) return firstTrial(analysis);
  const isLeft = has(capture, 'as-left');
  if (!analysis && facts.isCalculating) return { place: isLeft ? 'set' : 'window', label: 'Calculating…' };
  // While trials are made, each asks for another window: there is no need to look at every one of them.
  if (!analysis && facts.nextTrial) return { place: 'light-off', label: nextTrialLabel(burner) };
  if (!analysis && facts.isAdvising) return { place: 'light-off', label: 'Calculating…' };
  if (!analysis && facts.stopsShort) return { place: 'light-off', label: 'No trial is advised: see why' };
  if (!analysis) return { place: 'window', label: 'Check the window' };
  if (isLeft) {
    const next = afterAsLeft(analysis);
    // Who began without a name is asked for it again at the end: what the burner needs comes before.
    return next.place === 'proof' && !burnerNamed ? nameIt : next;
  }
  if (!analysis.result.setPoint) return { place: 'window', label: 'No set point to turn to: see why' };
  return { place: 'set', label: burns(burner) ? 'Set the regulator, record as-left' : 'Set once the pilot burns' };
}

/** The next trial, and what comes before it: its gas is shut and purged first. */
function nextTrialLabel(burner: BurnerView | undefined): string {
  if (isPurgeDue(burner)) return 'Purge, then make the next trial';
  return isGasOn(burner?.gas) ? 'Shut gas and purge, then the next trial' : 'Make the next light-off trial';
}

/** Where the first light-off trials belong, by the ends that were found; the analysis may not be known. */
function firstTrial(analysis: KnownAnalysis | undefined): { place: Place; label: string } {
  switch (analysis?.result.window.status) {
    case undefined:
      return { place: 'light-off', label: 'Make light-off trials' };
    case 'bounded':
      return { place: 'light-off', label: 'Make light-off trials near both ends' };
    case 'open-low':
      return { place: 'light-off', label: 'Make light-off trials; the low end was not reached' };
    case 'open-high':
      return { place: 'light-off', label: 'Make light-off trials; the high end was not reached' };
    case 'open-both':
      return { place: 'light-off', label: 'Make light-off trials at the setting; neither end was reached' };
    case 'none':
      return { place: 'window', label: 'No window found: see why' };
  }
}

/** What the decision on the as-left pressure asks for. */
function afterAsLeft({ result }: KnownAnalysis): { place: Place; label: string } {
  switch (result.asLeft?.decision) {
    case undefined:
      return { place: 'set', label: 'No decision on as-left: see why' };
    case 'pass':
      return { place: 'proof', label: 'Finish the visit and save the proof' };
    case 'conditional-pass':
      return { place: 'set', label: 'As-left: conditional pass. See why' };
    case 'conditional-fail':
    case 'fail':
      return { place: 'set', label: 'As-left does not pass: see why' };
  }
}
