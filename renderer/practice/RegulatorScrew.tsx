import { useEffect, useRef, useState } from 'react';
import type { PracticeState } from '../../shared/contract/api.ts';
import { formatNumber } from '../../shared/model/format.ts';
import { Button } from '../ui/controls/Button.tsx';
import { act } from './act.ts';
import { turnsAfter } from './turning.ts';

/** Ten small steps a second look like a screw turned slowly and evenly. */
const everyMs = 100;
/** About the finest turn of a regulator screw by hand. */
const stepTurns = 0.04;

/** The screw of the pilot regulator: by the slider, in small steps, or slowly and evenly. */
export function RegulatorScrew({ state }: { state: Pick<PracticeState, 'turns' | 'turnsMax'> }) {
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
  );
}
