import type { Api } from '../../../shared/contract/api.ts';
import type { trialCalls } from '../../../shared/contract/api/trials.ts';
import type { Handlers } from '../../../shared/contract/serve.ts';
import { fault } from '../../../shared/model/faults.ts';
import { purgeUntil } from '../../../shared/burner-state/purge.ts';
import { trialRefusal } from '../../../shared/burner-state/trials/trial.ts';
import { formatPressure } from '../../../shared/model/format.ts';
import { fail, ok, type Outcome } from '../../../shared/model/outcome.ts';
import { setupDefaults } from '../../../shared/model/setup.ts';
import type { PressureUnit } from '../../../shared/model/units.ts';
import type { HostContext } from '../host-context.ts';
import { setupOf } from '../store/read/capture-rows.ts';
import { addTrial, correctTrial, voidTrial } from '../store/trials.ts';
import { captureRow, currentMarks, recordedRow } from '../capture/lifecycle-rows.ts';

// The pressure of a trial is the mean over the second before its start.
const meanOverMs = 1000;

export function trialHandlers(context: HostContext): Pick<Handlers<Api>, keyof typeof trialCalls> {
  const { store, burner, clock, live, recorder, running, topics } = context;
  /** Tells the windows of a new entry. */
  const entered = (entry: Outcome<number>): Outcome<{ trial: number }> => {
    if (!entry.ok) return entry;
    topics.captures.notify();
    return ok({ trial: entry.value });
  };
  return {
    'trials.begin': async ({ capture, sparkDelayS }) => {
      const found = recordedRow(context, capture);
      if (!found.ok) return found;
      const startedS = recorder.elapsedS();
      const setup = setupOf(found.value);
      const refusal = trialRefusal({
        nowS: startedS,
        alarm: burner.situation().alarm,
        isRunning: running.trial !== undefined,
        purgeUntilS: purgeUntil(currentMarks(context, found.value.key), setup),
        purgeMissingS: burner.purgeMissingS(),
        sparkDelayS,
        trialSeconds: setup.pilotTrialSeconds ?? setupDefaults.pilotTrialSeconds,
      });
      if (refusal) return fail(refusal);
      const pressure = live.mean('pilot_pressure', meanOverMs, clock.monotonicMs());
      if (!pressure) return fail(fault('no-live-pressure'));

      running.trial = { startedS, sparkDelayS, pressure: pressure.value, unit: pressure.unit };
      const spark = sparkDelayS > 0 ? `, delayed spark, ${sparkDelayS} s` : '';
      const text = `${formatPressure(pressure.value, pressure.unit as PressureUnit)}${spark}`;
      recorder.mark({ elapsedS: startedS, kind: 'trial-start', text });
      topics.captures.notify();
      return ok({});
    },
    'trials.end': async ({ capture, lit, timeToProveS, pressure }) => {
      const found = recordedRow(context, capture);
      if (!found.ok) return found;
      const { trial } = running;
      if (!trial) return fail(fault('trial-missing'));
      addTrial(store.db, found.value.key, {
        pressure: pressure ?? trial.pressure,
        unit: trial.unit as PressureUnit,
        sparkDelayS: trial.sparkDelayS,
        lit,
        ...(timeToProveS !== undefined && { timeToProveS }),
        elapsedS: trial.startedS,
        knownBy: 'hand',
      });
      running.trial = undefined;
      recorder.mark({ elapsedS: recorder.elapsedS(), kind: 'trial-end', text: lit ? 'lit' : 'not lit' });
      topics.captures.notify();
      return ok({});
    },
    'trials.cancel': async ({ capture }) => {
      const found = recordedRow(context, capture);
      if (!found.ok) return found;
      if (!running.trial) return fail(fault('trial-missing'));
      running.trial = undefined;
      recorder.mark({ elapsedS: recorder.elapsedS(), kind: 'trial-end', text: 'cancelled' });
      topics.captures.notify();
      return ok({});
    },
    'trials.add': async ({ capture, trial }) => {
      const found = captureRow(context, capture);
      if (!found.ok) return found;
      const { key, status } = found.value;
      if (status === 'complete' && trial.reason === undefined) return fail(fault('reason-missing'));
      return entered(ok(addTrial(store.db, key, trial)));
    },
    'trials.correct': async ({ capture, trial, changes, reason }) => {
      const found = captureRow(context, capture);
      return found.ok ? entered(correctTrial(store.db, found.value.key, trial, { changes, reason })) : found;
    },
    'trials.void': async ({ capture, trial, reason }) => {
      const found = captureRow(context, capture);
      return found.ok ? entered(voidTrial(store.db, found.value.key, trial, reason)) : found;
    },
  };
}
