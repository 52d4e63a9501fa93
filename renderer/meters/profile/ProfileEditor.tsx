import { useMemo } from 'react';
import type { MeterState } from '../../../shared/contract/api.ts';
import { Button } from '../../ui/Button.tsx';
import { AccuracyPlate } from './AccuracyPanel.tsx';
import { asItCame } from './escapes.ts';
import { KeepPlate } from './SavePanel.tsx';
import { LinesAtHand } from './ReceivedLines.tsx';
import { commaOf, makeProfile, wayOf } from './make-profile.ts';
import { OwnProfiles } from './OwnProfiles.tsx';
import { PortPlate } from './PortPanel.tsx';
import { ReadPlate } from './ReadingPanel.tsx';
import { knowsRegisters } from './register.ts';
import { RegisterPlate } from './RegisterPanel.tsx';
import { showLines } from './show-line.ts';
import { deskNow, useDesk } from './use-draft.ts';
import './profile.css';

/** Teaches Pilot Bench how the lines of a meter are to be read. Stands in the place of the meters while it is open. */
export function ProfileDesk({ meters }: { meters: readonly MeterState[] }) {
  const { draft, follow } = useDesk();
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
        <Button onClick={() => deskNow().close()}>Back to meters</Button>
      </div>
      {knowsRegisters && (
        <fieldset className="row" aria-label="Kind of meter">
          <Button aria-pressed={!isRegister} onClick={() => deskNow().change({ kind: 'lines' })}>
            Prints lines
          </Button>
          <Button aria-pressed={isRegister} onClick={() => deskNow().change({ kind: 'registers' })}>
            Modbus RTU
          </Button>
        </fieldset>
      )}
      {isRegister ? <RegisterPlate meters={meters} /> : <LinesAtHand meters={meters} />}
      {!isRegister && lines.length > 0 && <ReadPlate lines={shownLines} way={way} isLive={followed !== undefined} />}
      <div className="desk-columns">
        <PortPlate />
        <AccuracyPlate unit={isRegister ? draft.register.unit : way?.channels[0]?.unit} />
        <KeepPlate made={made} meters={meters} />
        <OwnProfiles />
      </div>
    </>
  );
}
