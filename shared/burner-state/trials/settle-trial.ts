import type { MeasuredTrial } from './measure-trial.ts';
import { noTrialWords } from './no-trial.ts';
import type { TrialEvent } from './trial-follower.ts';

/** The readings of so many seconds after a trial still belong to its measurement: the pressure settles, or shows that gas is shut. */
export const settleS = 3;

/** What is known of a trial that is over, beside its measurement. Times in one clock, seconds. */
export interface OverTrial {
  why: Extract<TrialEvent, { kind: 'over' }>['why'];
  gasS: number;
  nowS: number;
  trialSeconds: number;
  /** `later`: it may wait for the flame's signal; `now`: only for one that is not proved yet; `shut`: gas is shut, nothing can come anymore. */
  when: 'later' | 'now' | 'shut';
  /** A minimum signal is entered, at which the flame counts as proved. */
  hasMinimumSignal: boolean;
  /** Pressure at which the pilot last burned, and that of the fan alone as entered, inH2O; undefined where not known. */
  burning: number | undefined;
  fanOnly: number | undefined;
}

/** What becomes of a trial that is over by the meters: it waits for its signal, it was none, the technician is asked, or it is entered as measured. */
export function settleTrial(
  measured: MeasuredTrial,
  { why, gasS, nowS, trialSeconds, when, hasMinimumSignal, burning, fanOnly }: OverTrial,
): 'wait' | 'ask' | 'enter' | { noTrial: string } {
  const noTrial = noTrialWords(measured, why, { burning, fanOnly });
  if (noTrial) return { noTrial };
  if (measured.isSignalBefore) return 'ask';
  // The tracker sees a flame before its signal has reached the minimum, or its own level where no minimum is entered: the trial's time
  // still runs for it.
  const canStillRise = why === 'proved' && nowS < gasS + trialSeconds + settleS;
  const isEnough = measured.lit && (hasMinimumSignal || when === 'now');
  return !isEnough && canStillRise && when !== 'shut' ? 'wait' : 'enter';
}
