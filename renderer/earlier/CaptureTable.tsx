import type { CaptureSummary } from '../../shared/contract/api.ts';
import { useHostAction } from '../state/host-calls.ts';
import { useOpenCapture } from '../state/open-capture.ts';
import { Notice } from '../ui/Notice.tsx';
import { CaptureRow } from './CaptureRow.tsx';

/** Every capture of the store, newest first, with the actions on it. */
export function CaptureTable({ captures }: { captures: readonly CaptureSummary[] }) {
  const { open, continueRecording, fault } = useOpenCapture();
  const finish = useHostAction('captures.finish', ['captures.list']);
  if (captures.length === 0) return <p>No captures yet. Record one, or import a file.</p>;
  const newestFirst = captures.toSorted((a, b) => Date.parse(b.startedAt) - Date.parse(a.startedAt));
  const shownFault = fault ?? finish.fault;
  return (
    <div className="capture-table">
      {shownFault && <Notice tone="bad" text={shownFault.message} />}
      <table>
        <thead>
          <tr>
            <th>Burner</th>
            <th>Date</th>
            <th className="figure">Length</th>
            <th className="figure trials">Trials</th>
            <th>Status</th>
            <th>
              <span className="visually-hidden">Actions</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {newestFirst.map((capture) => (
            <CaptureRow
              key={capture.id}
              capture={capture}
              onOpen={() => void open(capture.id)}
              onContinue={() => void continueRecording(capture.id)}
              onComplete={() => void finish.run({ capture: capture.id, interrupted: true })}
            />
          ))}
        </tbody>
      </table>
    </div>
  );
}
