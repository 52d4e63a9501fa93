import { pressureUnitLabel, signalUnitLabel } from '../../shared/model/format.ts';
import { pressureUnits, signalUnits, type PressureUnit, type SignalUnit } from '../../shared/model/units.ts';
import { FieldFrame } from '../ui/controls/Field.tsx';
import { useSetupForm } from './form.ts';
import type { SetupFields } from '../state/setup/setup-fields.ts';

type UnitField = {
  [K in keyof SetupFields]: SetupFields[K] extends PressureUnit | SignalUnit ? K : never;
}[keyof SetupFields];

/** One quantity of the setup: its number, and its unit, which is fixed or can be chosen. */
export function SetupField({
  field,
  name,
  unit,
  help,
}: {
  field: Exclude<keyof SetupFields, UnitField | 'setPointRule' | 'planKind' | 'trialMethod'>;
  name: string;
  unit: { choose: UnitField } | { fixed: string };
  help?: string;
}) {
  const { fields, problems, isFixed, change, save } = useSetupForm();
  return (
    <FieldFrame name={name} help={help} problem={problems[field]}>
      {({ input, describedBy }) => (
        <>
          <input
            id={input}
            inputMode="decimal"
            autoComplete="off"
            value={fields[field]}
            disabled={isFixed}
            aria-describedby={describedBy}
            aria-invalid={problems[field] !== undefined}
            onChange={(event) => change({ [field]: event.target.value })}
            onBlur={save}
          />
          {'fixed' in unit ? (
            <span className="unit-fixed">{unit.fixed}</span>
          ) : (
            <UnitChoice field={unit.choose} of={name} />
          )}
        </>
      )}
    </FieldFrame>
  );
}

function UnitChoice({ field, of }: { field: UnitField; of: string }) {
  const { fields, isFixed, change, save } = useSetupForm();
  const chosen = fields[field];
  const isSignal = (signalUnits as readonly string[]).includes(chosen);
  const choices = isSignal
    ? signalUnits.map((unit) => ({ unit, label: signalUnitLabel(unit) }))
    : pressureUnits.map((unit) => ({ unit, label: pressureUnitLabel(unit) }));
  return (
    <select
      className="unit"
      aria-label={`Unit of ${of.toLowerCase()}`}
      value={chosen}
      disabled={isFixed}
      onChange={(event) => change({ [field]: event.target.value })}
      onBlur={save}
    >
      {choices.map(({ unit, label }) => (
        <option key={unit} value={unit}>
          {label}
        </option>
      ))}
    </select>
  );
}
