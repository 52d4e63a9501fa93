import { useState } from 'react';
import { findUnit } from '../../../shared/instruments/unit-token.ts';
import { unitTextAfter } from '../../../shared/instruments/derive/line-label.ts';
import { roles, unitFits, type Role, type Unit } from '../../../shared/model/reading.ts';
import { roleLabels } from '../../../shared/report/labels.ts';
import { Button } from '../../ui/controls/Button.tsx';
import { Dialog } from '../../ui/controls/Dialog.tsx';
import { ChoiceField } from '../../ui/controls/Field.tsx';
import { unitChoices, usualUnit } from './draft/role-units.ts';
import type { ShownPart } from './draft/show-line.ts';

/** Asks what was pointed at: which channel, in which unit; or a word that means overload. */
export function PointDialog({
  line,
  part,
  onRead,
  onOverload,
  onClose,
}: {
  line: string;
  part: ShownPart;
  onRead: (role: Role, unit: Unit) => void;
  onOverload: (word: string) => void;
  onClose: () => void;
}) {
  const text = line.slice(part.from, part.to);
  const [role, setRole] = useState<Role | undefined>(part.role);
  const [unit, setUnit] = useState<Unit>();
  const printed = findUnit(unitTextAfter(line, part.to))?.unit;
  const first = role && (printed !== undefined && unitFits(role, printed) ? printed : usualUnit(role));
  const chosen = role && unit && unitFits(role, unit) ? unit : first;
  return (
    <Dialog name={`What is ${text}?`} onClose={onClose}>
      <fieldset className="role-choice" aria-label="Quantity">
        {roles.map((one) => (
          <Button key={one} aria-pressed={role === one} onClick={() => setRole(one)}>
            {roleLabels[one]}
          </Button>
        ))}
      </fieldset>
      {role && chosen && (
        <ChoiceField name="Unit" value={chosen} choices={unitChoices(role)} onChange={(next) => setUnit(next)} />
      )}
      <div className="row">
        <Button
          kind="main"
          size="large"
          disabled={!role || !chosen}
          onClick={() => role && chosen && onRead(role, chosen)}
        >
          Use this value
        </Button>
        {part.kind === 'word' && (
          <Button size="large" onClick={() => onOverload(text)}>
            This means overload
          </Button>
        )}
        <Button size="large" onClick={onClose}>
          Cancel
        </Button>
      </div>
    </Dialog>
  );
}
