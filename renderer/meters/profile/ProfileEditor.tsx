import { useMemo } from 'react';
import type { MeterState } from '../../../shared/contract/api.ts';
import { Button } from '../../ui/controls/Button.tsx';
import { AccuracyPanel } from './AccuracyPanel.tsx';
import { rawLine } from './draft/escapes.ts';
import { SavePanel } from './SavePanel.tsx';
import { ReceivedLines } from './ReceivedLines.tsx';
import { commaMeaning, lineReading, makeProfile } from './draft/make-profile.ts';
import { OwnProfiles } from './OwnProfiles.tsx';
import { PortPanel } from './PortPanel.tsx';
import { ReadingPanel } from './ReadingPanel.tsx';
import { registersSupported } from './draft/register.ts';
import { RegisterPanel } from './RegisterPanel.tsx';
import { showLines } from './draft/show-line.ts';
import { editorState, useEditor } from './draft/use-draft.ts';
import './profile.css';

/** Teaches Pilot Bench how to read the lines of a meter. Replaces the list of meters while it is open. */
export function ProfileEditor({ meters }: { meters: readonly MeterState[] }) {
  const { draft, follow } = useEditor();
  const followed = meters.find((meter) => meter.port === follow);
  const liveText = followed?.recentLines.join('\n');
  const lines = useMemo(
    () => (liveText === undefined ? draft.lines : liveText.split('\n').map(rawLine)).filter((line) => line.trim()),
    [liveText, draft.lines],
  );
  const reading = useMemo(() => lineReading(draft, lines), [draft, lines]);
  const result = useMemo(() => makeProfile(draft, reading), [draft, reading]);
  const shownLines = useMemo(() => {
    // The values show even before the profile has a name.
    const { profile } = makeProfile({ ...draft, kind: 'lines', name: draft.name.trim() || 'unnamed' }, reading);
    return showLines(lines, profile, commaMeaning(draft, lines));
  }, [draft, reading, lines]);
  const isRegister = registersSupported && draft.kind === 'registers';

  return (
    <>
      <div className="place-head">
        <h1>Teach a meter</h1>
        <Button onClick={() => editorState().close()}>Back to meters</Button>
      </div>
      {registersSupported && (
        <fieldset className="row" aria-label="Kind of meter">
          <Button aria-pressed={!isRegister} onClick={() => editorState().change({ kind: 'lines' })}>
            Sends lines of text
          </Button>
          <Button aria-pressed={isRegister} onClick={() => editorState().change({ kind: 'registers' })}>
            Modbus RTU
          </Button>
        </fieldset>
      )}
      {isRegister ? <RegisterPanel meters={meters} /> : <ReceivedLines meters={meters} />}
      {!isRegister && lines.length > 0 && (
        <ReadingPanel lines={shownLines} reading={reading} isLive={followed !== undefined} />
      )}
      <div className="profile-columns">
        <PortPanel />
        <AccuracyPanel unit={isRegister ? draft.register.unit : reading?.channels[0]?.unit} />
        <SavePanel result={result} meters={meters} />
        <OwnProfiles />
      </div>
    </>
  );
}
