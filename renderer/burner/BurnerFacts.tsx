import type { BurnerFacts as Facts } from '../../shared/model/capture.ts';
import { useHostQuery } from '../state/host-calls.ts';
import { workbenchState, useWorkbench } from '../state/workbench.ts';
import { useCapture } from '../state/current-capture.ts';
import { ChoiceField, TextField } from '../ui/controls/Field.tsx';
import { useSetupForm } from './form.ts';

const main: { key: keyof Facts; name: string }[] = [
  { key: 'site', name: 'Site' },
  { key: 'name', name: 'Burner name' },
];
const more: { key: keyof Facts; name: string }[] = [
  { key: 'burnerModel', name: 'Burner model' },
  { key: 'serialNumber', name: 'Serial number' },
  { key: 'pilotModel', name: 'Pilot model' },
  { key: 'flameDetector', name: 'Flame detector' },
  { key: 'gas', name: 'Gas' },
];

/** A choice of known burners, and the facts of the chosen or a new one. */
export function BurnerFacts() {
  const { isFixed, save } = useSetupForm();
  const { data: burners } = useHostQuery('burners.list', {});
  const capture = useCapture();
  const typed = useWorkbench((state) => state.burner);
  const { changeBurner, loadBurner, newBurner } = workbenchState();
  const shown = isFixed ? capture?.burner : typed;
  const field = ({ key, name }: { key: keyof Facts; name: string }) => (
    <TextField
      key={key}
      name={name}
      value={shown?.[key] ?? ''}
      disabled={isFixed}
      {...(key === 'site' && { suggestions: [...new Set(burners?.map((burner) => burner.site))] })}
      onChange={(text) => changeBurner({ [key]: text })}
      onLeave={save}
    />
  );
  return (
    <>
      {!isFixed && burners && burners.length > 0 && (
        <ChoiceField
          name="Saved burners"
          value={typed.id ?? ''}
          choices={[
            { value: '', label: 'New burner' },
            ...burners.map((burner) => ({
              value: burner.id,
              label: [burner.site, burner.name].filter(Boolean).join(', '),
            })),
          ]}
          onChange={(id) => {
            save();
            const known = burners.find((burner) => burner.id === id);
            if (known) loadBurner(known);
            else newBurner();
            save();
          }}
        />
      )}
      {main.map(field)}
      <details>
        <summary>Models, serial number, gas</summary>
        <div className="stack">{more.map(field)}</div>
      </details>
    </>
  );
}
