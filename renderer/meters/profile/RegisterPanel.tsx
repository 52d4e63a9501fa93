import type { MeterState } from '../../../shared/contract/api.ts';
import { roles, unitFits, type Role } from '../../../shared/model/reading.ts';
import { roleLabels } from '../../../shared/report/labels.ts';
import { ChoiceField } from '../../ui/controls/Field.tsx';
import { Numeral } from '../../ui/Numeral.tsx';
import { Panel } from '../../ui/Panel.tsx';
import { flagWords } from '../../ui/flag-words.ts';
import { readingText } from '../reading-text.ts';
import { NumberField, ScaleFields } from './ChannelFields.tsx';
import type { RegisterFields } from './draft/register.ts';
import { unitChoices, usualUnit } from './draft/role-units.ts';
import { editorState, useEditor } from './draft/use-draft.ts';

const functions = [
  { value: '3', label: '3: holding registers' },
  { value: '4', label: '4: input registers' },
] as const;
const types = [
  { value: 'float32', label: '32-bit float' },
  { value: 'int16', label: '16-bit, signed' },
  { value: 'uint16', label: '16-bit, unsigned' },
  { value: 'int32', label: '32-bit, signed' },
] as const;
const orders = [
  { value: 'big', label: 'High word first' },
  { value: 'little', label: 'Low word first' },
] as const;

/** A Modbus RTU meter has no lines to point at: its manual says which register holds the number. */
export function RegisterPanel({ meters }: { meters: readonly MeterState[] }) {
  const { register, name } = useEditor((state) => state.draft);
  const change = (part: Partial<RegisterFields>) => editorState().change({ register: { ...register, ...part } });
  const changeRole = (role: Role) =>
    change({ role, unit: unitFits(role, register.unit) ? register.unit : usualUnit(role) });
  const latest = meters
    .find((meter) => meter.profile === name.trim())
    ?.latest.find(({ role }) => role === register.role);
  return (
    <Panel name="Register (from the manual)">
      <div className="field-row">
        <ChoiceField
          name="Quantity"
          value={register.role}
          choices={roles.map((role) => ({ value: role, label: roleLabels[role] }))}
          onChange={changeRole}
        />
        <ChoiceField
          name="Unit"
          value={register.unit}
          choices={unitChoices(register.role)}
          onChange={(unit) => change({ unit })}
        />
        <ScaleFields role={register.role} />
      </div>
      <div className="field-row">
        <NumberField name="Unit ID" value={register.unitId} onChange={(unitId) => change({ unitId })} />
        <ChoiceField
          name="Function code"
          value={register.function}
          choices={functions}
          onChange={(code) => change({ function: code })}
        />
        <NumberField
          name="Address, counted from 0"
          value={register.address}
          onChange={(address) => change({ address })}
        />
        <ChoiceField name="Data type" value={register.type} choices={types} onChange={(type) => change({ type })} />
        {register.type.endsWith('32') && (
          <ChoiceField
            name="Word order"
            value={register.wordOrder}
            choices={orders}
            onChange={(wordOrder) => change({ wordOrder })}
          />
        )}
      </div>
      {latest && (
        <Numeral
          name={roleLabels[register.role]}
          value={latest.flag ? flagWords[latest.flag] : readingText(latest).text}
          unit={readingText(latest).unit}
          size="large"
        />
      )}
    </Panel>
  );
}
