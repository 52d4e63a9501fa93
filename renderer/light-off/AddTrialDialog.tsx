import { useState } from 'react';
import type { CaptureView } from '../../shared/contract/api.ts';
import type { PressureUnit } from '../../shared/model/units.ts';
import { useHostAction } from '../state/host-calls.ts';
import { Button } from '../ui/controls/Button.tsx';
import { Dialog } from '../ui/controls/Dialog.tsx';
import { Notice } from '../ui/Notice.tsx';
import { emptyTrialForm, problemsOf, trialOf } from './trial-form.ts';
import { TrialFields } from './TrialFields.tsx';

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
  const [form, setForm] = useState(emptyTrialForm);
  const [isSent, setSent] = useState(false);
  const problems = problemsOf(form, capture.status === 'complete');
  const save = () => {
    setSent(true);
    if (Object.keys(problems).length > 0) return;
    const reason = form.reason.trim();
    const trial = { ...trialOf(form, unit), knownBy: 'hand' as const, ...(reason !== '' && { reason }) };
    void add.run({ capture: capture.id, trial }).then((done) => done && onClose());
  };
  return (
    <Dialog name="Add a trial by hand" onClose={onClose}>
      <TrialFields
        form={form}
        unit={unit}
        problems={isSent ? problems : {}}
        change={(part) => setForm({ ...form, ...part })}
      />
      {add.fault && <Notice tone="bad" text={add.fault.message} />}
      <div className="row">
        <Button size="large" onClick={onClose}>
          Cancel
        </Button>
        <Button kind="main" size="large" disabled={add.busy} onClick={save}>
          Add trial
        </Button>
      </div>
    </Dialog>
  );
}
