import type { CaptureView } from '../../../shared/contract/api.ts';
import { formatElapsed, formatPressureRange, formatSignalRange, pressureNumber } from '../../../shared/model/format.ts';
import type { TimeSpan } from '../../../shared/model/sweeps.ts';
import type { PressureUnit, SignalUnit } from '../../../shared/model/units.ts';
import { useHostAction } from '../../state/host-calls.ts';
import { readingRange } from '../../state/live/span-statistics.ts';
import { useRecording } from '../../state/live/recording.ts';
import { Button } from '../../ui/controls/Button.tsx';
import { Notice } from '../../ui/Notice.tsx';
import { emptyTrialForm, type TrialForm, trialOf } from './trial-form.ts';
import { TrialFormDialog, useTrialForm } from './TrialFormDialog.tsx';

/** Enters what became of a trial without a result, beside what the meters showed of it; or discards it. Both with a reason. */
export function UnjudgedTrialDialog({
  capture,
  span,
  unit,
  onClose,
}: {
  capture: CaptureView;
  span: TimeSpan;
  unit: PressureUnit;
  onClose: () => void;
}) {
  const add = useHostAction('trials.add');
  const recording = useRecording();
  const pressures = recording && readingRange(recording.buffer.column('pilot_pressure'), span.fromS, span.toS);
  const signals = recording && readingRange(recording.buffer.column('flame_signal'), span.fromS, span.toS);
  const signalUnit = (capture.units.flame_signal ?? 'V') as SignalUnit;
  const initial = (): TrialForm => ({
    ...emptyTrialForm,
    // The pressure with gas on is the highest.
    pressure: pressures ? pressureNumber(pressures[1], unit) : '',
    spark: capture.setup.sparkWithGas ? 'with-gas' : 'unknown',
  });
  const entry = useTrialForm(initial, true);
  const enter = (status?: 'void') => {
    const trial = {
      ...trialOf(entry.form, unit),
      elapsedS: span.fromS,
      knownBy: 'hand' as const,
      reason: entry.reason,
      ...(status && { status, lit: false }),
    };
    void add.run({ capture: capture.id, trial }).then((done) => done && onClose());
  };
  const shown = [
    pressures && formatPressureRange(pressures, unit),
    signals && formatSignalRange(signals, signalUnit),
  ].filter(Boolean);
  return (
    <TrialFormDialog
      name={`Trial at ${formatElapsed(span.fromS)}: no result yet`}
      entry={entry}
      unit={unit}
      onClose={onClose}
      notice={add.fault && <Notice tone="bad" text={add.fault.message} />}
      buttons={
        <>
          <Button
            kind="stop"
            size="large"
            disabled={add.busy}
            onClick={() => entry.isReady('pressure', 'reason') && enter('void')}
          >
            Discard trial
          </Button>
          <Button kind="main" size="large" disabled={add.busy} onClick={() => entry.isReady() && enter()}>
            Save result
          </Button>
        </>
      }
    >
      <p>
        {shown.length > 0
          ? `Until ${formatElapsed(span.toS)} the meters showed ${shown.join(' and ')}.`
          : 'The meters showed nothing of it.'}
      </p>
    </TrialFormDialog>
  );
}
