import { useRef } from 'react';
import { useWorkbench } from '../state/workbench.ts';
import { useMeters } from '../state/live/meters.ts';
import { Button } from '../ui/controls/Button.tsx';
import { Panel } from '../ui/Panel.tsx';
import { ConnectMeter } from './ConnectMeter.tsx';
import { useDetection } from './detection.ts';
import { MeterCard } from './MeterCard.tsx';
import { NetworkPanel } from './NetworkPanel.tsx';
import { ProfileEditor } from './profile/ProfileEditor.tsx';
import { editorState, useEditor } from './profile/draft/use-draft.ts';
import './meters.css';

/** Step 2: connects the two meters and shows their readings before anything is recorded. */
export function MetersPlace() {
  const { meters } = useMeters();
  const go = useWorkbench((state) => state.go);
  const detection = useDetection();
  const listenButton = useRef<HTMLButtonElement>(null);
  const listenOn = (port: string) => {
    detection.start([port]);
    // The card with the focus is gone: the focus moves to where the result will show.
    listenButton.current?.focus();
  };
  const isTeaching = useEditor((state) => state.isOpen);
  if (isTeaching) return <ProfileEditor meters={meters ?? []} />;
  return (
    <>
      <div className="place-head">
        <h1>Meters</h1>
        <Button kind="main" onClick={() => go('sweep')}>
          Next: sweep
        </Button>
      </div>
      <div className="columns">
        {meters?.map((meter) => (
          <MeterCard key={meter.port} meter={meter} onListen={() => listenOn(meter.port)} />
        ))}
        {meters?.length === 0 && (
          <Panel name="No meter connected">
            <p>Connect a manometer at the pilot test tap and a meter for the flame signal.</p>
          </Panel>
        )}
        {/* Only once the meters are known: their cards come before it and would push it away under a hand. */}
        {meters && <ConnectMeter meters={meters} detection={detection} listenButton={listenButton} />}
        <NetworkPanel />
        <Panel name="No profile fits?">
          <p>Teach Pilot Bench: show it a few lines from the meter and select the number.</p>
          <div className="row">
            <Button onClick={() => editorState().open()}>Teach a meter</Button>
          </div>
        </Panel>
      </div>
    </>
  );
}
