import type { StoredTrial } from '../../../shared/contract/api.ts';
import type { PressureUnit } from '../../../shared/model/units.ts';
import { useHostAction } from '../../state/host-calls.ts';
import { Button } from '../../ui/controls/Button.tsx';
import { Notice } from '../../ui/Notice.tsx';
import { changesOf, formOf, type TrialForm } from './trial-form.ts';
import { TrialFormDialog, useTrialForm } from './TrialFormDialog.tsx';

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
  const entry = useTrialForm(() => formOf(trial, unit), true);
  const { form, reason } = entry;
  const changes = changesOf(trial, form, unit);
  const isVoid = trial.status === 'void';
  const isChanged = isVoid || Object.keys(changes).length > 0;
  const isQuestioned = correct.fault?.code === 'verdict-contradicts-meters';
  const save = (confirmed?: true) => {
    if (!entry.isReady()) return;
    // A void entry is valid again when it is corrected, also where its facts were right.
    const facts = Object.keys(changes).length > 0 ? changes : { lit: trial.lit };
    const input = { capture, trial: trial.id, changes: facts, reason, ...(confirmed && { confirmed }) };
    void correct.run(input).then((done) => done && onClose());
  };
  const remove = () => {
    if (entry.isReady('reason'))
      void discard.run({ capture, trial: trial.id, reason }).then((done) => done && onClose());
  };
  // What was questioned is another thing once it is typed anew.
  const change = (part: Partial<TrialForm>) => {
    correct.clear();
    entry.change(part);
  };
  const fault = correct.fault ?? discard.fault;

  return (
    <TrialFormDialog
      name="Correct this trial"
      entry={{ ...entry, change }}
      unit={unit}
      onClose={onClose}
      notice={fault && <Notice tone={isQuestioned ? 'warning' : 'bad'} text={fault.message} />}
      buttons={
        <>
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
        </>
      }
    >
      <p className="soft">The entry as it was stays in the record.</p>
    </TrialFormDialog>
  );
}
