import type { Api } from '../../../shared/contract/api.ts';
import type { trialCalls } from '../../../shared/contract/api/trials.ts';
import type { Handlers } from '../../../shared/contract/serve.ts';
import { fault } from '../../../shared/model/faults.ts';
import { purgeUntil } from '../../../shared/burner-state/purge.ts';
import { trialRefusal } from '../../../shared/burner-state/trials/trial.ts';
import { purgeFacts } from '../../../shared/burner-state/trials/trial-entry.ts';
import { correctionDoubt } from '../../../shared/burner-state/trials/verdict.ts';
import { formatPressure } from '../../../shared/model/format.ts';
import { fail, ok, type Outcome } from '../../../shared/model/outcome.ts';
import type { Setup } from '../../../shared/model/setup.ts';
import { trialSpansOf } from '../../../shared/model/sweeps.ts';
import { isWithin, sameS } from '../../../shared/model/trials/unjudged-trials.ts';
import type { PressureUnit } from '../../../shared/model/units.ts';
import { doubtOf, entryByHand } from '../burner/end-trial.ts';
import { isAboutSignal, type RunningTrial } from '../burner/running-trial.ts';
import { isoLocal } from '../clock.ts';
import type { HostContext } from '../host-context.ts';
import { setSetup } from '../store/captures.ts';
import { type CaptureRow, setupOf } from '../store/read/capture-rows.ts';
import { addOwnTrial, addTrial, correctTrial, trialsOf, voidTrial } from '../store/trials.ts';
import { captureRow, currentMarks, recordedRow } from '../capture/lifecycle-rows.ts';
import { purgeSecondsOf, trialSecondsOf } from '../../../shared/model/trials/valid-trials.ts';

// The pressure of a trial is the mean over the second before its start.
const meanOverMs = 1000;

export function trialHandlers(context: HostContext): Pick<Handlers<Api>, keyof typeof trialCalls> {
  const { store, owner, burner, clock, live, recorder, running, topics } = context;
  /** Tells the windows of a new entry. */
  const entered = (entry: Outcome<number>): Outcome<{ trial: number }> => {
    if (!entry.ok) return entry;
    topics.captures.notify();
    return ok({ trial: entry.value });
  };
  /** Why no trial may begin now, and none be announced. */
  const refusalOf = ({ key }: CaptureRow, setup: Setup, sparkDelayS: number) =>
    trialRefusal({
      nowS: recorder.elapsedS(),
      alarm: burner.situation().alarm,
      isRunning: running.trial !== undefined,
      purgeUntilS: purgeUntil(currentMarks(context, key), setup),
      purgeMissingS: burner.purgeMissingS(),
      sparkDelayS,
      trialSeconds: trialSecondsOf(setup),
    });
  /** The trial that runs in this capture, which is recorded here. */
  const runningIn = (capture: string): Outcome<{ row: CaptureRow; trial: RunningTrial }> => {
    const found = recordedRow(context, capture);
    if (!found.ok) return found;
    const { trial } = running;
    return trial?.key === found.value.key ? ok({ row: found.value, trial }) : fail(fault('trial-missing'));
  };
  /** Why the trial that began at `startedS` cannot be ended: it is in the record, or it is over without an entry. */
  const overAlready = ({ key }: CaptureRow, startedS: number) => {
    const span = trialSpansOf(currentMarks(context, key)).find(({ fromS }) => fromS === startedS);
    const entry =
      span && trialsOf(store.db, key).findLast(({ elapsedS }) => elapsedS !== undefined && isWithin(elapsedS, span));
    return entry ? fault('trial-judged', { verdict: entry.lit ? 'lit' : 'not lit' }) : fault('trial-missing');
  };
  /** Ends the trial that runs; the purge wait begins. */
  const over = (text: string) => {
    running.trial = undefined;
    recorder.mark({ elapsedS: recorder.elapsedS(), kind: 'trial-end', text });
    topics.captures.notify();
    return ok({});
  };
  return {
    'trials.begin': async ({ capture, sparkDelayS }) => {
      const found = recordedRow(context, capture);
      if (!found.ok) return found;
      const refusal = refusalOf(found.value, setupOf(found.value), sparkDelayS);
      if (refusal) return fail(refusal);
      const mean = live.mean('pilot_pressure', meanOverMs, clock.monotonicMs());
      if (!mean) return fail(fault('no-live-pressure'));

      const startedS = recorder.elapsedS();
      const pressure = { value: mean.value, unit: mean.unit as PressureUnit };
      const { key } = found.value;
      running.announced = undefined;
      running.trial = { key, startedS, announcedDelayS: sparkDelayS, pressure, knownBy: 'hand', sawFlame: false };
      const spark = sparkDelayS > 0 ? `, delayed spark, ${sparkDelayS} s` : '';
      const text = `${formatPressure(pressure.value, pressure.unit)}${spark}`;
      recorder.mark({ elapsedS: startedS, kind: 'trial-start', text });
      topics.captures.notify();
      return ok({});
    },
    'trials.announce': async ({ capture, sparkDelayS }) => {
      const found = recordedRow(context, capture);
      if (!found.ok) return found;
      const { key } = found.value;
      const refusal = sparkDelayS === null ? undefined : refusalOf(found.value, setupOf(found.value), sparkDelayS);
      if (refusal) return fail(refusal);
      running.announced = sparkDelayS === null ? undefined : { key, sparkDelayS };
      topics.captures.notify();
      return ok({});
    },
    'trials.sparkWithGas': async ({ capture, stated }) => {
      const found = recordedRow(context, capture);
      if (!found.ok) return found;
      const { key, technician } = found.value;
      const { sparkWithGas: _before, ...setup } = setupOf(found.value);
      const by = technician ?? 'the technician';
      const sparkWithGas = { by, at: isoLocal(clock.wallMs()) };
      setSetup(store.db, key, stated ? { ...setup, sparkWithGas } : setup);
      const text = stated ? `The control sparks with the gas, says ${by}.` : 'Spark with the gas: taken back.';
      recorder.mark({ elapsedS: recorder.elapsedS(), kind: 'note', text });
      topics.captures.notify();
      return ok({});
    },
    'trials.end': async ({ capture, confirmed, startedS, ...verdict }) => {
      const meant = captureRow(context, capture);
      const isRunning = meant.ok && running.trial?.key === meant.value.key && running.trial.startedS === startedS;
      if (meant.ok && startedS !== undefined && !isRunning) return fail(overAlready(meant.value, startedS));
      const found = runningIn(capture);
      if (!found.ok) return found;
      const { row, trial } = found.value;
      const doubt = confirmed ? undefined : doubtOf(context, trial, setupOf(row), verdict.lit);
      if (doubt) return fail(doubt);
      const entry = entryByHand(context, trial, setupOf(row), verdict);
      if (!entry.ok) return entry;
      if (addOwnTrial(store.db, row.key, owner, entry.value) === undefined) return fail(fault('capture-elsewhere'));
      if (!verdict.lit && trial.gas && isAboutSignal(trial.undecided)) running.enteredNotLit = { key: row.key };
      return over(verdict.lit ? 'lit' : 'not lit');
    },
    'trials.cancel': async ({ capture }) => {
      const found = runningIn(capture);
      if (!found.ok) return found;
      const { gas, undecided } = found.value.trial;
      return gas && !undecided ? fail(fault('trial-has-gas')) : over('cancelled');
    },
    'trials.add': async ({ capture, trial }) => {
      const found = captureRow(context, capture);
      if (!found.ok) return found;
      const { key, status } = found.value;
      const purged = running.unjudged.find(
        (one) => one.key === key && trial.elapsedS !== undefined && Math.abs(one.startedS - trial.elapsedS) < sameS,
      );
      const facts = purged && purgeFacts(purged.purge, purgeSecondsOf(setupOf(found.value)));
      if ((status === 'complete' || trial.status === 'void') && trial.reason === undefined)
        return fail(fault('reason-missing'));
      return entered(ok(addTrial(store.db, key, { ...facts, ...trial })));
    },
    'trials.correct': async ({ capture, trial, changes, reason, confirmed }) => {
      const found = captureRow(context, capture);
      if (!found.ok) return found;
      const doubt = confirmed ? undefined : correctionDoubt(trialsOf(store.db, found.value.key), trial, changes.lit);
      return doubt ? fail(doubt) : entered(correctTrial(store.db, found.value.key, trial, { changes, reason }));
    },
    'trials.void': async ({ capture, trial, reason }) => {
      const found = captureRow(context, capture);
      return found.ok ? entered(voidTrial(store.db, found.value.key, trial, reason)) : found;
    },
  };
}
