import { type ReactNode, useState } from 'react';
import type { PressureUnit } from '../../../shared/model/units.ts';
import { Button } from '../../ui/controls/Button.tsx';
import { Dialog } from '../../ui/controls/Dialog.tsx';
import { problemsOf, type TrialForm, type TrialProblems } from './trial-form.ts';
import { TrialFields } from './TrialFields.tsx';

/** A form of a trial as it is typed; what cannot be used of it is shown once somebody tries to save it. */
export function useTrialForm(initial: () => TrialForm, needsReason: boolean) {
  const [form, setForm] = useState(initial);
  const [isSent, setSent] = useState(false);
  const problems = problemsOf(form, needsReason);
  return {
    form,
    reason: form.reason.trim(),
    problems: isSent ? problems : {},
    change: (part: Partial<TrialForm>) => setForm({ ...form, ...part }),
    /** Whether these fields can be used, or all of them where none is named; if not, it shows from now on. */
    isReady: (...needed: (keyof TrialProblems)[]): boolean => {
      setSent(true);
      return needed.length > 0 ? needed.every((field) => !problems[field]) : Object.keys(problems).length === 0;
    },
  };
}

/** A dialog with the facts of one trial: what is known of it above, a `notice` below, and `buttons` beside Cancel. */
export function TrialFormDialog({
  name,
  entry: { form, problems, change },
  unit,
  notice,
  buttons,
  onClose,
  children,
}: {
  name: string;
  entry: Pick<ReturnType<typeof useTrialForm>, 'form' | 'problems' | 'change'>;
  unit: PressureUnit;
  notice: ReactNode;
  buttons: ReactNode;
  onClose: () => void;
  children?: ReactNode;
}) {
  return (
    <Dialog name={name} onClose={onClose}>
      {children}
      <TrialFields form={form} unit={unit} problems={problems} change={change} />
      {notice}
      <div className="row">
        <Button size="large" onClick={onClose}>
          Cancel
        </Button>
        {buttons}
      </div>
    </Dialog>
  );
}
