import { useEffect, useRef, useState } from 'react';
import type { PracticeState } from '../../shared/contract/api.ts';
import { formatNumber } from '../../shared/model/format.ts';
import { callHost, type CallInput } from '../state/host-calls.ts';
import { Button } from '../ui/controls/Button.tsx';
import { Shape } from '../ui/Shape.tsx';
import { StatusWord } from '../ui/StatusWord.tsx';
import { turnsAfter } from './turning.ts';

/** Ten small steps a second look like a screw turned slowly and evenly. */
const everyMs = 100;
/** About the finest turn of a regulator screw by hand. */
const stepTurns = 0.04;

const act = (action: CallInput<'practice.act'>) => void callHost('practice.act', action);

/** The controls of the invented burner: regulator screw, pilot valve, spark and fan. */
export function PracticeControls({ state }: { state: PracticeState }) {
  const { turnsMax } = state;
  const [turning, setTurning] = useState<1 | -1 | 0>(0);
  const turns = useRef(state.turns);
  useEffect(() => {
    if (turning === 0) turns.current = state.turns;
  }, [state.turns, turning]);

  const turnTo = (next: number) => {
    turns.current = Math.min(turnsMax, Math.max(0, next));
    act({ turns: turns.current });
  };
  useEffect(() => {
    if (turning === 0) return undefined;
    const timer = setInterval(() => {
      turns.current = turnsAfter(turns.current, turning, everyMs / 1000, turnsMax);
      act({ turns: turns.current });
      if (turns.current === 0 || turns.current === turnsMax) setTurning(0);
    }, everyMs);
    return () => clearInterval(timer);
  }, [turning, turnsMax]);

  const step = (by: number) => {
    setTurning(0);
    turnTo(turns.current + by);
  };
  return (
    <div className="practice-controls">
      <div className="stack">
        <span>
          Regulator screw <span className="figure">{formatNumber(state.turns, 2)}</span> turns
        </span>
        <div className="screw">
          <Button aria-label="Turn out a little" onClick={() => step(-stepTurns)}>
            −
          </Button>
          <input
            type="range"
            aria-label="Regulator screw"
            aria-valuetext={`${formatNumber(state.turns, 2)} turns`}
            min={0}
            max={turnsMax}
            step={0.02}
            value={state.turns}
            onChange={(event) => {
              setTurning(0);
              turnTo(Number(event.target.value));
            }}
          />
          <Button aria-label="Turn in a little" onClick={() => step(stepTurns)}>
            +
          </Button>
        </div>
        <div className="practice-pair">
          <Button aria-pressed={turning === -1} onClick={() => setTurning(turning === -1 ? 0 : -1)}>
            Turn out slowly
          </Button>
          <Button aria-pressed={turning === 1} onClick={() => setTurning(turning === 1 ? 0 : 1)}>
            Turn in slowly
          </Button>
        </div>
      </div>
      <div className="stack">
        <StatusWord tone={state.flame ? 'good' : 'plain'} shape={state.flame ? 'solid-circle' : 'hollow-circle'}>
          {state.flame ? 'Flame burning' : 'No flame'}
        </StatusWord>
        {!state.flame && <p className="soft">{relightHint(state)}</p>}
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
      </div>
    </div>
  );
}

/** What keeps the flame from lighting, one step at a time. */
const relightHint = ({ fan, pilotValve, spark }: PracticeState): string => {
  if (!pilotValve) return 'The pilot valve is closed.';
  if (!fan) return 'The fan is off.';
  return spark ? 'It does not light at this pressure.' : 'Turn the spark on for a moment to light it.';
};

function Switch({
  name,
  words,
  on,
  set,
}: {
  name: string;
  words: readonly [string, string];
  on: boolean;
  set: (on: boolean) => void;
}) {
  return (
    <Button aria-pressed={on} onClick={() => set(!on)}>
      <Shape name={on ? 'solid-square' : 'hollow-square'} size={16} />
      {name} {words[on ? 1 : 0]}
    </Button>
  );
}
