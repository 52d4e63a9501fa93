import type { PracticeState } from '../../shared/contract/api.ts';
import { Button } from '../ui/controls/Button.tsx';
import { ChoiceField } from '../ui/controls/Field.tsx';
import { act } from './act.ts';
import { Switch } from './Switches.tsx';

const valves = [
  { value: 'sound', label: 'Sound' },
  { value: 'stuck-open', label: 'Stuck open' },
  { value: 'leaking', label: 'Leaking' },
] as const;
const meters = [
  { value: 'sound', label: 'Sound' },
  { value: 'dead', label: 'Dead' },
  { value: 'frozen', label: 'Frozen' },
] as const;

/** What can go wrong at the practice bench, to be chosen. The heading says how many faults there are, so that none is forgotten. */
export function Faults({ state }: { state: PracticeState }) {
  const { hasControl, jumpered, valve, manometer, multimeter } = state;
  const count =
    [valve, manometer, multimeter].filter((condition) => condition !== 'sound').length + Number(hasControl && jumpered);
  return (
    <details>
      <summary>Faults to practice{count > 0 && `: ${count} on`}</summary>
      <div className="stack">
        <Button disabled={!state.flame} onClick={() => act({ blowOff: true })}>
          Blow off the flame
        </Button>
        {hasControl && (
          <>
            <Switch
              name="Test switch"
              words={['not jumpered', 'jumpered']}
              on={jumpered}
              set={(next) => act({ jumpered: next })}
            />
            <p className="soft">Jumpered, the control never shuts gas when the flame is lost. Practice only.</p>
          </>
        )}
        <ChoiceField name="Pilot valve" value={valve} choices={valves} onChange={(next) => act({ valve: next })} />
        <ChoiceField
          name="Manometer"
          value={manometer}
          choices={meters}
          onChange={(next) => act({ manometer: next })}
        />
        <ChoiceField
          name="Flame signal meter"
          value={multimeter}
          choices={meters}
          onChange={(next) => act({ multimeter: next })}
        />
      </div>
    </details>
  );
}
