import type { BurnerView, CaptureView } from '../../shared/contract/api.ts';
import { isSweeping, sweepsOf } from '../../shared/model/sweeps.ts';
import { validTrials } from '../../shared/model/valid-trials.ts';
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
  /** Whether this capture was analyzed since it was opened. */
  isAnalyzed: boolean;
}

const has = (capture: CaptureView | undefined, kind: CaptureView['marks'][number]['kind']) =>
  capture?.marks.some((mark) => mark.kind === kind) ?? false;

/** Whether a sweep was ended that counts. */
const hasSweep = (capture: CaptureView | undefined): boolean =>
  sweepsOf(capture?.marks ?? []).some(({ toS, isVoid }) => toS < Infinity && !isVoid);

/** The steps that are done. */
export function doneSteps({ burnerNamed, pressureLive, signalLive, capture, isAnalyzed }: VisitProgress): Set<Place> {
  const done = new Set<Place>();
  if (burnerNamed) done.add('burner');
  if ((pressureLive && signalLive) || capture?.status === 'complete') done.add('meters');
  if (hasSweep(capture) || capture?.status === 'complete') done.add('sweep');
  if (capture && validTrials(capture.trials).length > 0) done.add('light-off');
  if (isAnalyzed) done.add('window');
  if (has(capture, 'as-left') || capture?.setup.asLeftPressure) done.add('set');
  if (capture?.status === 'complete') done.add('proof');
  return done;
}

/** Whether gas flows and a flame burns, steadily or, near an end of the window, not. */
const burns = (burner: BurnerView | undefined): boolean =>
  burner !== undefined && burner.gas === 'flowing' && (burner.flame === 'burning' || burner.flame === 'unsteady');

/** What a sweep asks for now: without a flame there is nothing to turn for. */
function sweepLabel(burner: BurnerView | undefined): string {
  if (burns(burner)) return 'Turn slowly out and in, then end the sweep';
  const isUnknown = !burner || burner.gas === 'unknown' || burner.flame === 'unknown';
  return isUnknown ? 'Flame not known: do not turn' : 'No flame: do not turn';
}

/** The one next thing to do, and where. Undefined when the visit is over. */
export function nextStep(facts: VisitProgress): { place: Place; label: string } | undefined {
  const { burnerNamed, pressureLive, signalLive, capture, burner, isAnalyzed } = facts;
  if (capture?.status === 'complete') return undefined;
  if (capture?.status === 'interrupted')
    return {
      place: 'earlier',
      label: capture.recordedHere ? 'Continue or complete the interrupted capture' : 'Complete the interrupted capture',
    };
  if (!pressureLive && !signalLive) return { place: 'meters', label: 'Connect both meters' };
  if (!pressureLive) return { place: 'meters', label: 'Connect the manometer' };
  if (!signalLive) return { place: 'meters', label: 'Connect the flame signal meter' };
  if (!burnerNamed) return { place: 'burner', label: 'Enter the burner’s name' };
  if (!capture) return { place: 'sweep', label: 'Start recording' };
  if (capture.runningTrial?.gasS !== undefined && !capture.runningTrial.failedMeter)
    return { place: 'light-off', label: 'Watch the light-off trial' };
  if (capture.runningTrial) return { place: 'light-off', label: 'Enter whether the pilot lit' };
  if (isSweeping(capture.marks)) return { place: 'sweep', label: sweepLabel(burner) };
  // Afterwards it is too late: the regulator has been turned.
  const isUntouched =
    !has(capture, 'sweep-start') && !has(capture, 'as-left') && validTrials(capture.trials).length === 0;
  if (!has(capture, 'as-found') && isUntouched)
    return { place: 'sweep', label: 'Record as-found before touching anything' };
  if (!hasSweep(capture)) return { place: 'sweep', label: 'Begin the sweep' };
  if (validTrials(capture.trials).length === 0)
    return { place: 'light-off', label: 'Make light-off trials near both ends' };
  if (!isAnalyzed) return { place: 'window', label: 'Check the window' };
  if (!has(capture, 'as-left'))
    return { place: 'set', label: burns(burner) ? 'Set the regulator, record as-left' : 'Set once the pilot burns' };
  return { place: 'proof', label: 'Finish the visit and save the proof' };
}
