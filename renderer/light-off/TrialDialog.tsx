import { useState } from 'react';
import type { StoredTrial } from '../../shared/contract/api.ts';
import type { PressureUnit } from '../../shared/model/units.ts';
import { useHostAction } from '../state/host-calls.ts';
import { Button } from '../ui/controls/Button.tsx';
import { Dialog } from '../ui/controls/Dialog.tsx';
import { Notice } from '../ui/Notice.tsx';
import { changesOf, formOf, problemsOf } from './trial-form.ts';
import { TrialFields } from './TrialFields.tsx';

/** Corrects or discards a trial of the record, always with a reason; the entry as it was stays visible. */
export function TrialDialog({
  capture,
  trial,
  unit,
  onClose,
}: {
  capture: string;
  trial: StoredTrial;
  unit: PressureUnit;
  onClose: () => void;
}) {
  const correct = useHostAction('trials.correct');
  const discard = useHostAction('trials.void');
  const [form, setForm] = useState(() => formOf(trial, unit));
  const [isSent, setSent] = useState(false);
  const problems = problemsOf(form, true);
  const changes = changesOf(trial, form, unit);
  const isVoid = trial.status === 'void';
  const isChanged = isVoid || Object.keys(changes).length > 0;
  const isQuestioned = correct.fault?.code === 'verdict-contradicts-meters';
  const reason = form.reason.trim();
  const save = (confirmed?: true) => {
    setSent(true);
    if (Object.keys(problems).length > 0) return;
    // A void entry is valid again when it is corrected, also where its facts were right.
    const facts = Object.keys(changes).length > 0 ? changes : { lit: trial.lit };
    const input = { capture, trial: trial.id, changes: facts, reason, ...(confirmed && { confirmed }) };
    void correct.run(input).then((done) => done && onClose());
  };
  const remove = () => {
    setSent(true);
    if (!problems.reason) void discard.run({ capture, trial: trial.id, reason }).then((done) => done && onClose());
  };
  const fault = correct.fault ?? discard.fault;

  return (
    <Dialog name="Correct this trial" onClose={onClose}>
      <TrialFields
        form={form}
        unit={unit}
        problems={isSent ? problems : {}}
        change={(part) => {
          correct.clear();
          setForm({ ...form, ...part });
        }}
      />
      <p className="soft">The entry as it was stays in the record.</p>
      {fault && <Notice tone={isQuestioned ? 'warning' : 'bad'} text={fault.message} />}
      <div className="row">
        <Button size="large" onClick={onClose}>
          Cancel
        </Button>
        {!isVoid && (
          <Button kind="stop" size="large" disabled={discard.busy} onClick={remove}>
            Discard trial
          </Button>
        )}
        {isQuestioned ? (
          <Button kind="stop" size="large" disabled={correct.busy} onClick={() => save(true)}>
            Confirm: {form.lit ? 'Lit' : 'Did not light'}
          </Button>
        ) : (
          <Button kind="main" size="large" disabled={correct.busy || !isChanged} onClick={() => save()}>
            Save correction
          </Button>
        )}
      </div>
    </Dialog>
  );
}
