import { useMemo } from 'react';
import type { MeterState } from '../../../shared/contract/api.ts';
import { Button } from '../../ui/controls/Button.tsx';
import { AccuracyPanel } from './AccuracyPanel.tsx';
import { asItCame } from './draft/escapes.ts';
import { SavePanel } from './SavePanel.tsx';
import { ReceivedLines } from './ReceivedLines.tsx';
import { commaOf, makeProfile, wayOf } from './draft/make-profile.ts';
import { OwnProfiles } from './OwnProfiles.tsx';
import { PortPanel } from './PortPanel.tsx';
import { ReadingPanel } from './ReadingPanel.tsx';
import { knowsRegisters } from './draft/register.ts';
import { RegisterPanel } from './RegisterPanel.tsx';
import { showLines } from './draft/show-line.ts';
import { editorState, useEditor } from './draft/use-draft.ts';
import './profile.css';

/** Teaches Pilot Bench how the lines of a meter are to be read. Stands in the place of the meters while it is open. */
export function ProfileEditor({ meters }: { meters: readonly MeterState[] }) {
  const { draft, follow } = useEditor();
  const followed = meters.find((meter) => meter.port === follow);
  const liveText = followed?.recentLines.join('\n');
  const lines = useMemo(
    () => (liveText === undefined ? draft.lines : liveText.split('\n').map(asItCame)).filter((line) => line.trim()),
    [liveText, draft.lines],
  );
  const way = useMemo(() => wayOf(draft, lines), [draft, lines]);
  const made = useMemo(() => makeProfile(draft, way), [draft, way]);
  const shownLines = useMemo(() => {
    // What is read shows before the profile has a name.
    const { profile } = makeProfile({ ...draft, kind: 'lines', name: draft.name.trim() || 'unnamed' }, way);
    return showLines(lines, profile, commaOf(draft, lines));
  }, [draft, way, lines]);
  const isRegister = knowsRegisters && draft.kind === 'registers';

  return (
    <>
      <div className="place-head">
        <h1>Teach a meter</h1>
        <Button onClick={() => editorState().close()}>Back to meters</Button>
      </div>
      {knowsRegisters && (
        <fieldset className="row" aria-label="Kind of meter">
          <Button aria-pressed={!isRegister} onClick={() => editorState().change({ kind: 'lines' })}>
            Prints lines
          </Button>
          <Button aria-pressed={isRegister} onClick={() => editorState().change({ kind: 'registers' })}>
            Modbus RTU
          </Button>
        </fieldset>
      )}
      {isRegister ? <RegisterPanel meters={meters} /> : <ReceivedLines meters={meters} />}
      {!isRegister && lines.length > 0 && <ReadingPanel lines={shownLines} way={way} isLive={followed !== undefined} />}
      <div className="desk-columns">
        <PortPanel />
        <AccuracyPanel unit={isRegister ? draft.register.unit : way?.channels[0]?.unit} />
        <SavePanel made={made} meters={meters} />
        <OwnProfiles />
      </div>
    </>
  );
}
