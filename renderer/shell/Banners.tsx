import { useState } from 'react';
import { formatDuration, formatStart } from '../../shared/model/format.ts';
import { useWorkbench } from '../state/workbench.ts';
import { useFeed } from '../state/feeds.ts';
import { useConnection, useRefusal } from '../state/connection.ts';
import { useOpenCapture } from '../state/open-capture.ts';
import type { Refusal } from '../api/client.ts';
import { Button } from '../ui/controls/Button.tsx';
import { Notice } from '../ui/Notice.tsx';
import { InterruptedActions } from '../ui/visit/InterruptedActions.tsx';

const lostWords = {
  gone: 'The connection to Pilot Bench was lost. This page is trying to reconnect; everything recorded is safe. If Pilot Bench was restarted, open the address that it prints.',
  restarted:
    'Pilot Bench was restarted and has a new address. Open the address that it prints and close this page. Everything recorded is safe.',
  'address-used':
    'This address no longer counts: each can be used once. Get a new one from a window of Pilot Bench that is open (New tab), or open the file that it named at its start. A recording goes on meanwhile.',
} satisfies Record<Refusal | 'gone', string>;

/** Problems that concern every step: lost connection, a store fault, an interrupted capture. */
export function Banners() {
  const connection = useConnection();
  const refusal = useRefusal();
  const store = useFeed('store.live', {});
  return (
    <>
      {connection === 'lost' && <Notice tone="bad" text={lostWords[refusal ?? 'gone']} />}
      {store?.fault && <Notice tone="bad" text={store.fault.message} />}
      {store && store.windows > 1 && (
        <Notice
          tone="plain"
          text={`Pilot Bench is open in ${store.windows} windows. All of them show and control the same recording.`}
        />
      )}
      <RecordingElsewhere />
      <InterruptedCapture />
    </>
  );
}

/** Warns that the capture being recorded is not the current one, so that it is not forgotten. */
function RecordingElsewhere() {
  const changes = useFeed('captures.changes', {});
  const captureId = useWorkbench((state) => state.captureId);
  const { open } = useOpenCapture();
  const found = changes?.unfinished.find((capture) => capture.status === 'recording' && capture.id !== captureId);
  if (!found) return null;
  return (
    <Notice
      tone="warning"
      text={`${found.burner?.name ?? 'An unnamed burner'} is still being recorded. Another capture is shown here.`}
    >
      <div className="row">
        <Button kind="main" onClick={() => void open(found.id)}>
          Back to the recording
        </Button>
      </div>
    </Notice>
  );
}

function InterruptedCapture() {
  const changes = useFeed('captures.changes', {});
  const [postponed, setPostponed] = useState<readonly string[]>([]);
  const found = changes?.unfinished.find(
    (capture) => capture.status === 'interrupted' && !postponed.includes(capture.id),
  );
  if (!found) return null;
  const what = `${found.burner?.name ?? 'An unnamed burner'}, ${formatStart(found, 'date not stated')}`;
  return (
    <Notice
      tone="warning"
      text={`A capture was interrupted: ${what}, ${formatDuration(found.durationS)}. Everything recorded up to then is safe. Nobody has watched gas and flame since: look at the burner first.`}
    >
      <InterruptedActions capture={found}>
        <Button onClick={() => setPostponed([...postponed, found.id])}>Later</Button>
      </InterruptedActions>
    </Notice>
  );
}
