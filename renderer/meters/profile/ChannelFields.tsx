import type { Role, Unit } from '../../../shared/model/reading.ts';
import { roleWords } from '../../../shared/report/words.ts';
import { Button } from '../../ui/controls/Button.tsx';
import { ChoiceField, FieldFrame } from '../../ui/controls/Field.tsx';
import { changeUnit, forget } from './draft/draft.ts';
import { unitChoices } from './draft/role-units.ts';
import { editorState, useEditor } from './draft/use-draft.ts';

/** A number as typed, in the same dress everywhere on this page. */
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
  const numbers = useEditor((desk) => desk.draft.numbers);
  const own = numbers[role] ?? { scale: '', offset: '' };
  const set = (part: Partial<typeof own>) =>
    editorState().change({ numbers: { ...numbers, [role]: { ...own, ...part } } });
  return (
    <>
      <NumberField name="Times" value={own.scale} placeholder="1" onChange={(scale) => set({ scale })} />
      <NumberField name="Plus" value={own.offset} placeholder="0" onChange={(offset) => set({ offset })} />
    </>
  );
}

/** One channel that was pointed at: its unit, scale and offset, and a way to be rid of it. */
export function ChannelFields({ role, unit }: { role: Role; unit: Unit }) {
  const { put } = editorState();
  return (
    <fieldset className="channel-fields" aria-label={roleWords[role]}>
      <strong>{roleWords[role]}</strong>
      <ChoiceField
        name="Unit"
        value={unit}
        choices={unitChoices(role)}
        onChange={(next) => put(changeUnit(editorState().draft, role, next))}
      />
      <ScaleFields role={role} />
      <Button aria-label={`Take away ${roleWords[role]}`} onClick={() => put(forget(editorState().draft, role))}>
        Take away
      </Button>
    </fieldset>
  );
}
