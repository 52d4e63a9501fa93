import type { PracticeState } from '../../shared/contract/api.ts';
import { StatusWord } from '../ui/StatusWord.tsx';
import { act } from './act.ts';
import { BurnerControl } from './BurnerControl.tsx';
import { Faults } from './Faults.tsx';
import { RegulatorScrew } from './RegulatorScrew.tsx';
import { Switch, TwoPositions } from './Switches.tsx';

const operations = [
  { value: 'control', label: 'Control' },
  { value: 'hand', label: 'Hand' },
] as const;

/** The invented burner: its flame, its control or the valve by hand, its regulator screw, and its faults. */
export function PracticeControls({ state }: { state: PracticeState }) {
  return (
    <div className="practice-controls">
      <RegulatorScrew state={state} />
      <div className="stack">
        <StatusWord tone={state.flame ? 'good' : 'plain'} shape={state.flame ? 'solid-circle' : 'hollow-circle'}>
          {state.flame ? 'Flame burning' : 'No flame'}
        </StatusWord>
        {state.hasControl ? <BurnerControl state={state} /> : <ByHand state={state} />}
      </div>
      <TwoPositions
        name="Pilot operated by"
        positions={operations}
        at={state.hasControl ? 'control' : 'hand'}
        set={(next) => act({ hasControl: next === 'control' })}
      />
      <Faults state={state} />
    </div>
  );
}

/** Valve, spark and fan without a control. */
function ByHand({ state }: { state: PracticeState }) {
  return (
    <>
      <p className="soft">No flame safeguard: gas flows until you shut it.{!state.flame && ` ${relightHint(state)}`}</p>
      <Switch
        name="Pilot valve"
        words={['closed', 'open']}
        on={state.pilotValve}
        set={(pilotValve) => act({ pilotValve })}
      />
      <div className="practice-pair">
        <Switch name="Spark" words={['off', 'on']} on={state.spark} set={(spark) => act({ spark })} />
        <Switch name="Fan" words={['off', 'on']} on={state.fan} set={(fan) => act({ fan })} />
      </div>
    </>
  );
}

/** What keeps the flame from lighting, one step at a time. */
const relightHint = ({ fan, pilotValve, spark }: PracticeState): string => {
  if (!pilotValve) return 'The pilot valve is closed.';
  if (!fan) return 'The fan is off.';
  return spark ? 'It does not light at this pressure.' : 'Spark within the trial, or shut the valve and purge.';
};
