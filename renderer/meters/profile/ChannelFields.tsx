import type { Role, Unit } from '../../../shared/model/reading.ts';
import { roleLabels } from '../../../shared/report/labels.ts';
import { Button } from '../../ui/controls/Button.tsx';
import { ChoiceField, FieldFrame } from '../../ui/controls/Field.tsx';
import { changeUnit, removeChannel } from './draft/draft.ts';
import { unitChoices } from './draft/role-units.ts';
import { editorState, useEditor } from './draft/use-draft.ts';

/** A field for a number as typed, with its unit. */
export function NumberField({
  name,
  value,
  unit,
  placeholder,
  onChange,
}: {
  name: string;
  value: string;
  unit?: string;
  placeholder?: string;
  onChange: (value: string) => void;
}) {
  return (
    <FieldFrame name={name}>
      {({ input }) => (
        <>
          <input
            id={input}
            inputMode="decimal"
            autoComplete="off"
            maxLength={20}
            value={value}
            placeholder={placeholder}
            onChange={(event) => onChange(event.target.value)}
          />
          {unit && <span className="unit-fixed">{unit}</span>}
        </>
      )}
    </FieldFrame>
  );
}

/** Scale and offset of a channel. */
export function ScaleFields({ role }: { role: Role }) {
  const numbers = useEditor((state) => state.draft.numbers);
  const typed = numbers[role] ?? { scale: '', offset: '' };
  const set = (part: Partial<typeof typed>) =>
    editorState().change({ numbers: { ...numbers, [role]: { ...typed, ...part } } });
  return (
    <>
      <NumberField name="Scale" value={typed.scale} placeholder="1" onChange={(scale) => set({ scale })} />
      <NumberField name="Offset" value={typed.offset} placeholder="0" onChange={(offset) => set({ offset })} />
    </>
  );
}

/** One channel that was pointed at: its unit, scale and offset, and a button that removes it. */
export function ChannelFields({ role, unit }: { role: Role; unit: Unit }) {
  const { setDraft } = editorState();
  return (
    <fieldset className="channel-fields" aria-label={roleLabels[role]}>
      <strong>{roleLabels[role]}</strong>
      <ChoiceField
        name="Unit"
        value={unit}
        choices={unitChoices(role)}
        onChange={(next) => setDraft(changeUnit(editorState().draft, role, next))}
      />
      <ScaleFields role={role} />
      <Button
        aria-label={`Remove ${roleLabels[role]}`}
        onClick={() => setDraft(removeChannel(editorState().draft, role))}
      >
        Remove
      </Button>
    </fieldset>
  );
}
