import { useRef } from 'react';
import { useBench } from '../state/workbench.ts';
import { useMeters } from '../state/meters.ts';
import { Button } from '../ui/Button.tsx';
import { Plate } from '../ui/Panel.tsx';
import { ConnectMeter } from './ConnectMeter.tsx';
import { useListening } from './detection.ts';
import { MeterCard } from './MeterCard.tsx';
import { NetworkPlate } from './NetworkPanel.tsx';
import { ProfileDesk } from './profile/ProfileEditor.tsx';
import { deskNow, useDesk } from './profile/use-draft.ts';
import './meters.css';

/** Step 2: the two meters, seen to be read rightly before anything is recorded. */
export function MetersPlace() {
  const { meters } = useMeters();
  const go = useBench((bench) => bench.go);
  const listening = useListening();
  const listenButton = useRef<HTMLButtonElement>(null);
  const listenOn = (port: string) => {
    listening.start([port]);
    // The card that was pressed is gone: go on where the answer will stand.
    listenButton.current?.focus();
  };
  const isTeaching = useDesk((desk) => desk.isOpen);
  if (isTeaching) return <ProfileDesk meters={meters ?? []} />;
  return (
    <>
      <div className="place-head">
        <h1>Meters</h1>
        <Button kind="main" onClick={() => go('sweep')}>
          On to sweep
        </Button>
      </div>
      <div className="columns">
        {meters?.map((meter) => (
          <MeterCard key={meter.port} meter={meter} onListen={() => listenOn(meter.port)} />
        ))}
        {meters?.length === 0 && (
          <Plate name="No meter connected">
            <p>One manometer on the pilot test tap, one meter on the flame signal.</p>
          </Plate>
        )}
        <ConnectMeter meters={meters ?? []} listening={listening} listenButton={listenButton} />
        <NetworkPlate />
        <Plate name="No profile fits?">
          <p>Show Pilot Bench a few lines of the meter and point at the number.</p>
          <div className="row">
            <Button onClick={() => deskNow().open()}>Teach a meter</Button>
          </div>
        </Plate>
      </div>
    </>
  );
}
