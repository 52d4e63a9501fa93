import type { Api } from '../../../shared/contract/api.ts';
import type { Handlers } from '../../../shared/contract/serve.ts';
import { canBeConfirmed, settingRefusal, sweepRefusal } from '../../../shared/burner-state/permissions.ts';
import type { Fault } from '../../../shared/model/faults.ts';
import { fault } from '../../../shared/model/faults.ts';
import { formatPressure, formatSignal } from '../../../shared/model/format.ts';
import { fail, ok } from '../../../shared/model/outcome.ts';
import { isSweeping, sweepsOf } from '../../../shared/model/sweeps.ts';
import type { PressureUnit, SignalUnit } from '../../../shared/model/units.ts';
import type { HostContext } from '../host-context.ts';
import { setupOf } from '../store/read/capture-rows.ts';
import { addMark, setSetup } from '../store/captures.ts';
import { captureRow, currentMarks, isRegulatorTurned, recordedRow } from '../capture/lifecycle-rows.ts';

// Long enough to average the flicker of a flame, short enough to be "now".
const meanOverMs = 3000;

export function markHandlers(context: HostContext): Pick<Handlers<Api>, 'captures.mark' | 'captures.voidSweep'> {
  const { store, clock, live, recorder, topics } = context;
  return {
    'captures.mark': async ({ capture, kind, text, confirmed }) => {
      const found = recordedRow(context, capture);
      if (!found.ok) return found;
      const row = found.value;
      const elapsedS = recorder.elapsedS();

      if (kind === 'as-found' || kind === 'as-left') {
        const nowMs = clock.monotonicMs();
        const pressure = live.mean('pilot_pressure', meanOverMs, nowMs);
        if (!pressure) return fail(fault('no-live-pressure'));
        const refusal = refusalOf(kind, context, row.key);
        if (refusal && !(confirmed && canBeConfirmed(refusal.code))) return fail(refusal);
        const signal = live.mean('flame_signal', meanOverMs, nowMs);
        const unit = pressure.unit as PressureUnit;
        if (kind === 'as-left')
          setSetup(store.db, row.key, { ...setupOf(row), asLeftPressure: { value: pressure.value, unit } });
        const values = [
          formatPressure(pressure.value, unit),
          ...(signal ? [formatSignal(signal.value, signal.unit as SignalUnit)] : ['no flame signal reading']),
        ].join(', ');
        recorder.mark({ elapsedS, kind, text: text === '' ? values : `${values}; ${text}` });
      } else {
        const sweeping = isSweeping(currentMarks(context, row.key));
        if (kind === 'sweep-end' && !sweeping) return fail(fault('sweep-missing'));
        const refusal = kind === 'sweep-start' ? sweepRefusal(context.burner.situation()) : undefined;
        if (refusal) return fail(refusal);
        if (kind === 'sweep-start' && sweeping) recorder.mark({ elapsedS, kind: 'sweep-end', text: '' });
        recorder.mark({ elapsedS, kind, text });
      }
      topics.captures.notify();
      return ok({});
    },
    'captures.voidSweep': async ({ capture, fromS, reason }) => {
      const found = captureRow(context, capture);
      if (!found.ok) return found;
      const row = found.value;
      const sweep = sweepsOf(currentMarks(context, row.key)).find((one) => one.fromS === fromS);
      if (!sweep) return fail(fault('sweep-unknown'));
      if (sweep.isVoid) return fail(fault('sweep-void'));
      const isHere = recorder.target()?.key === row.key;
      // A sweep that is running is ended by the mark; of one that is over the mark stands at its end.
      const now = isHere ? recorder.elapsedS() : row.duration_s;
      const mark = { elapsedS: Math.min(sweep.toS, now), kind: 'sweep-void', text: reason } as const;
      if (isHere) recorder.mark(mark);
      else addMark(store.db, row.key, mark);
      topics.captures.notify();
      return ok({});
    },
  };
}

/** Why this must not be recorded now; undefined when it may. What nobody can answer for comes first. */
function refusalOf(kind: 'as-found' | 'as-left', context: HostContext, key: number): Fault | undefined {
  const refusal = settingRefusal(context.burner.situation());
  if (kind === 'as-left' || (refusal && !canBeConfirmed(refusal.code))) return refusal;
  return isRegulatorTurned(context, key) ? fault('as-found-late') : refusal;
}
