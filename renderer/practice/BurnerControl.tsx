import type { PracticeState } from '../../shared/contract/api.ts';
import { Button } from '../ui/controls/Button.tsx';
import { Announce } from '../ui/Notice.tsx';
import { StatusWord } from '../ui/StatusWord.tsx';
import { act } from './act.ts';
import { ControlSettings } from './ControlSettings.tsx';
import { sequenceWords } from './sequence-words.ts';
import { TwoPositions } from './Switches.tsx';

const positions = [
  { value: 'hold-pilot', label: 'Hold pilot' },
  { value: 'run', label: 'Run' },
] as const;

/** The burner control of the practice bench: where it is in its sequence, start and stop, test switch and reset. */
export function BurnerControl({ state }: { state: PracticeState }) {
  const words = sequenceWords(state);
  if (!words) return null;
  return (
    <div className="stack">
      <div className="practice-sequence" data-tone={words.tone}>
        <StatusWord tone={words.tone}>{words.word}</StatusWord>
        {state.secondsLeft !== undefined && <span className="figure">{state.secondsLeft} s</span>}
      </div>
      <Announce text={words.word} />
      <p className="soft">{words.next}</p>
      {state.sequence === 'lockout' && (
        <>
          <p>Each try without a flame leaves gas behind: never reset again and again.</p>
          <Button kind="main" size="large" onClick={() => act({ reset: true })}>
            Reset by hand
          </Button>
        </>
      )}
      <Button
        kind={state.callForHeat ? 'stop' : 'main'}
        size="large"
        onClick={() => act({ callForHeat: !state.callForHeat })}
      >
        {state.callForHeat ? 'Stop burner' : 'Start burner'}
      </Button>
      <TwoPositions
        name="Test switch"
        positions={positions}
        at={state.testSwitch}
        set={(testSwitch) => act({ testSwitch })}
      />
      <ControlSettings settings={state.settings} />
    </div>
  );
}
