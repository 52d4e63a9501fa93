import { pressureUnitLabel } from '../../../shared/model/format.ts';
import type { PressureUnit } from '../../../shared/model/units.ts';
import { ChoiceField, FieldFrame, TextField } from '../../ui/controls/Field.tsx';
import type { TrialForm, TrialProblems } from './trial-form.ts';

const notChosen = { value: '', label: 'Choose' } as const;
const verdicts = [
  { value: 'lit', label: 'Lit' },
  { value: 'not-lit', label: 'Did not light' },
] as const;
const sparks = [
  { value: 'with-gas', label: 'With the gas' },
  { value: 'delayed', label: 'Delayed' },
  { value: 'unknown', label: 'Not known' },
] as const;

/** The facts of a trial, to be entered or corrected. */
export function TrialFields({
  form,
  unit,
  problems,
  change,
}: {
  form: TrialForm;
  unit: PressureUnit;
  problems: TrialProblems;
  change: (part: Partial<TrialForm>) => void;
}) {
  const number = (name: string, key: 'pressure' | 'sparkDelay' | 'timeToProve', unitText: string, help?: string) => (
    <FieldFrame name={name} help={help} problem={problems[key]}>
      {({ input, describedBy }) => (
        <>
          <input
            id={input}
            inputMode="decimal"
            aria-describedby={describedBy}
            aria-invalid={problems[key] !== undefined}
            value={form[key]}
            onChange={(event) => change({ [key]: event.target.value })}
          />
          <span className="unit-fixed">{unitText}</span>
        </>
      )}
    </FieldFrame>
  );
  return (
    <div className="trial-fields">
      {number('Pressure', 'pressure', pressureUnitLabel(unit), 'With gas on')}
      <ChoiceField
        name="Result"
        value={form.lit === undefined ? '' : form.lit ? 'lit' : 'not-lit'}
        choices={form.lit === undefined ? [notChosen, ...verdicts] : verdicts}
        problem={problems.lit}
        onChange={(value) => change({ lit: value === '' ? undefined : value === 'lit' })}
      />
      <ChoiceField name="Spark" value={form.spark} choices={sparks} onChange={(spark) => change({ spark })} />
      {form.spark === 'delayed' && number('Spark after gas', 'sparkDelay', 's')}
      {form.lit && number('Time to prove', 'timeToProve', 's', 'From gas on')}
      <TextField
        name="Reason"
        value={form.reason}
        {...(problems.reason !== undefined && { problem: problems.reason })}
        onChange={(reason) => change({ reason })}
      />
    </div>
  );
}
