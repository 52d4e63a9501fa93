import { purgeFacts, trialEntry } from '../../../shared/burner-state/trials/trial-entry.ts';
import { verdictDoubt } from '../../../shared/burner-state/trials/verdict.ts';
import type { Trial } from '../../../shared/model/capture.ts';
import { type Fault, fault } from '../../../shared/model/faults.ts';
import { formatSignal } from '../../../shared/model/format.ts';
import { fail, ok, type Outcome } from '../../../shared/model/outcome.ts';
import type { Setup } from '../../../shared/model/setup.ts';
import { purgeSecondsOf } from '../../../shared/model/trials/valid-trials.ts';
import type { SignalUnit } from '../../../shared/model/units.ts';
import type { HostContext } from '../host-context.ts';
import { measureRecorded } from './measure-recorded.ts';
import type { RunningTrial } from './running-trial.ts';

/** What the technician enters of a trial. */
export interface Verdict {
  lit: boolean;
  timeToProveS?: number | undefined;
  /** In the unit of the pressure when it began. */
  pressure?: number | undefined;
}

/** Gas has come on when the pressure rose by more than this share of it; less is noise of a pressure that was there all the time. */
const leastRise = 0.15;

/**
 * Why a verdict is to be asked about first: the meters say the opposite. Gives `verdict-contradicts-meters`. Throws what the store throws.
 */
export function doubtOf(context: HostContext, trial: RunningTrial, setup: Setup, lit: boolean): Fault | undefined {
  const { burner, live, clock } = context;
  const { now } = burner.situation();
  // The readings may show a proved flame before the tracker, which waits for later ones, says so.
  const isProved = trial.gas !== undefined && measureRecorded(context, trial, setup, now?.levels)?.lit === true;
  const signal = live.mean('flame_signal', 0, clock.monotonicMs());
  return verdictDoubt(lit, {
    sawFlame: trial.sawFlame || isProved,
    flame: now?.latest.flame ?? 'unknown',
    isSignalSound: now !== undefined && !now.signalTrouble && signal !== undefined && !trial.undecided,
    shown: signal ? formatSignal(signal.value, signal.unit as SignalUnit) : 'no reading',
  });
}

/**
 * The entry of a trial that the technician ends: the verdict by hand, the rest as the stored readings show it.
 * Fails with `no-live-pressure` where no pressure is known. Throws what the store throws.
 */
export function entryByHand(context: HostContext, trial: RunningTrial, setup: Setup, verdict: Verdict): Outcome<Trial> {
  const { lit, timeToProveS } = verdict;
  const measured = measureRecorded(context, trial, setup, context.burner.situation().now?.levels);
  const hasRisen =
    measured && measured.pressure - (measured.pressureBefore ?? measured.pressure) > leastRise * measured.pressure;
  const began = trial.pressure;
  const typed = verdict.pressure === undefined || !began ? undefined : { value: verdict.pressure, unit: began.unit };
  const seen = hasRisen ? { value: measured.pressure, unit: measured.unit } : undefined;
  const pressure = typed ?? seen ?? began;
  if (!pressure) return fail(fault('no-live-pressure'));
  const purgeSeconds = purgeSecondsOf(setup);
  // Times count only from gas that the tracker saw, and from meters that did not fail.
  const byMeters =
    measured && trial.gas && !trial.undecided
      ? trialEntry(
          { ...measured, lit },
          {
            announcedDelayS: trial.announcedDelayS,
            sparksWithGas: setup.sparkWithGas !== undefined,
            purge: trial.gas.purge,
            purgeSeconds,
          },
        )
      : undefined;
  const sparkDelayS = trial.announcedDelayS ?? (setup.sparkWithGas ? 0 : undefined);
  return ok({
    ...(byMeters ?? {
      ...(sparkDelayS !== undefined && { sparkDelayS }),
      elapsedS: trial.startedS,
      ...(trial.gas && purgeFacts(trial.gas.purge, purgeSeconds)),
    }),
    pressure: pressure.value,
    unit: pressure.unit,
    lit,
    ...(timeToProveS !== undefined && lit && { timeToProveS }),
    knownBy: 'hand',
  });
}
