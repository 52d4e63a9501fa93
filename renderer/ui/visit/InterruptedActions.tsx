import type { ReactNode } from 'react';
import type { CaptureSummary } from '../../../shared/contract/api.ts';
import { fault } from '../../../shared/model/faults.ts';
import { useHostAction } from '../../state/host-calls.ts';
import { useOpenCapture } from '../../state/open-capture.ts';
import { Button } from '../controls/Button.tsx';

/** What can be done with an interrupted capture: its recording goes on where it was recorded here; else it says why not. */
export function InterruptedActions({
  capture,
  children,
}: {
  capture: Pick<CaptureSummary, 'id' | 'recordedHere'>;
  children?: ReactNode;
}) {
  const { continueRecording, fault: continueFault } = useOpenCapture();
  const finish = useHostAction('captures.finish');
  const { id, recordedHere } = capture;
  const failed = continueFault ?? finish.fault;
  return (
    <>
      {!recordedHere && <p>{fault('capture-imported').message}</p>}
      {failed && <p role="alert">{failed.message}</p>}
      <div className="row">
        {recordedHere && (
          <Button kind="main" onClick={() => void continueRecording(id)}>
            Continue recording
          </Button>
        )}
        <Button
          kind={recordedHere ? 'plain' : 'main'}
          disabled={finish.busy}
          onClick={() => void finish.run({ capture: id, interrupted: true })}
        >
          Complete as it is
        </Button>
        {children}
      </div>
    </>
  );
}
