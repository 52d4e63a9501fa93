import type { BurnerFacts as Facts } from '../../shared/model/capture.ts';
import { useHostQuery } from '../state/host-calls.ts';
import { workbenchState, useWorkbench } from '../state/workbench.ts';
import { useCapture } from '../state/current-capture.ts';
import { ChoiceField, TextField } from '../ui/controls/Field.tsx';
import { useSetupForm } from './form.ts';

const main: { key: keyof Facts; name: string }[] = [
  { key: 'site', name: 'Site' },
  { key: 'name', name: 'Burner' },
];
const more: { key: keyof Facts; name: string }[] = [
  { key: 'burnerModel', name: 'Burner model' },
  { key: 'serialNumber', name: 'Serial number' },
  { key: 'pilotModel', name: 'Pilot' },
  { key: 'flameDetector', name: 'Flame detector' },
  { key: 'gas', name: 'Gas' },
];

/** A burner that is known already, or a new one. */
export function BurnerFacts() {
  const { isFixed, keep } = useSetupForm();
  const { data: burners } = useHostQuery('burners.list', {});
  const capture = useCapture();
  const typed = useWorkbench((bench) => bench.burner);
  const { changeBurner, takeBurner, newBurner } = workbenchState();
  const shown = isFixed ? capture?.burner : typed;
  const field = ({ key, name }: { key: keyof Facts; name: string }) => (
    <TextField
      key={key}
      name={name}
      value={shown?.[key] ?? ''}
      disabled={isFixed}
      {...(key === 'site' && { suggestions: [...new Set(burners?.map((burner) => burner.site))] })}
      onChange={(text) => changeBurner({ [key]: text })}
      onLeave={keep}
    />
  );
  return (
    <>
      {!isFixed && burners && burners.length > 0 && (
        <ChoiceField
          name="Known burners"
          value={typed.id ?? ''}
          choices={[
            { value: '', label: 'New burner' },
            ...burners.map((burner) => ({
              value: burner.id,
              label: [burner.site, burner.name].filter(Boolean).join(', '),
            })),
          ]}
          onChange={(id) => {
            keep();
            const known = burners.find((burner) => burner.id === id);
            if (known) takeBurner(known);
            else newBurner();
            keep();
          }}
        />
      )}
      {main.map(field)}
      <details>
        <summary>Model, serial number, detector, gas</summary>
        <div className="stack">{more.map(field)}</div>
      </details>
    </>
  );
}
