import type { CaptureView } from '../../../shared/contract/api.ts';
import type { PressureUnit } from '../../../shared/model/units.ts';
import { useHostAction } from '../../state/host-calls.ts';
import { Button } from '../../ui/controls/Button.tsx';
import { Notice } from '../../ui/Notice.tsx';
import { emptyTrialForm, trialOf } from './trial-form.ts';
import { TrialFormDialog, useTrialForm } from './TrialFormDialog.tsx';

/** Enters a trial by hand that the meters could not see; into a complete capture only with a reason. */
export function AddTrialDialog({
  capture,
  unit,
  onClose,
}: {
  capture: CaptureView;
  unit: PressureUnit;
  onClose: () => void;
}) {
  const add = useHostAction('trials.add');
  const entry = useTrialForm(() => emptyTrialForm, capture.status === 'complete');
  const save = () => {
    if (!entry.isReady()) return;
    const { form, reason } = entry;
    const trial = { ...trialOf(form, unit), knownBy: 'hand' as const, ...(reason !== '' && { reason }) };
    void add.run({ capture: capture.id, trial }).then((done) => done && onClose());
  };
  return (
    <TrialFormDialog
      name="Add a trial by hand"
      entry={entry}
      unit={unit}
      onClose={onClose}
      notice={add.fault && <Notice tone="bad" text={add.fault.message} />}
      buttons={
        <Button kind="main" size="large" disabled={add.busy} onClick={save}>
          Add trial
        </Button>
      }
    />
  );
}
