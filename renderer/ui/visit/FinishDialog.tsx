import type { CaptureView } from '../../../shared/contract/api.ts';
import { useAnalysis } from '../../state/analysis.ts';
import { useHostAction } from '../../state/host-calls.ts';
import { useWorkbench } from '../../state/workbench.ts';
import { Button } from '../controls/Button.tsx';
import { Dialog } from '../controls/Dialog.tsx';
import { Notice } from '../Notice.tsx';
import { Working } from '../Working.tsx';
import { visitDoubts } from './finish-words.ts';

/** Finishing cannot be undone, so it is confirmed first, with all that is missing, not judged or does not pass. */
export function FinishDialog({ capture, onClose }: { capture: CaptureView; onClose: () => void }) {
  const finish = useHostAction('captures.finish');
  const go = useWorkbench((state) => state.go);
  // What was recorded since the last analysis counts as well.
  const { analysis, fault, busy, cancel } = useAnalysis(capture, true);
  const doubts = busy ? [] : visitDoubts(capture, analysis?.result, fault?.message);
  const finishVisit = async () => {
    if (!(await finish.run({ capture: capture.id }))) return;
    onClose();
    go('proof');
  };
  return (
    <Dialog name="Finish this visit?" onClose={onClose}>
      <p>
        Recording stops. What was recorded stays as it is; notes can be added, and sweeps and trials discarded with a
        reason.
      </p>
      {busy && <Working name="Looking for what is missing" onCancel={cancel} />}
      {doubts.map((doubt) => (
        <Notice key={doubt} tone="warning" text={doubt} />
      ))}
      {finish.fault && <Notice tone="bad" text={finish.fault.message} />}
      <div className="row">
        <Button size="large" onClick={onClose}>
          Continue recording
        </Button>
        <Button kind="stop" size="large" disabled={finish.busy || busy} onClick={() => void finishVisit()}>
          Finish
        </Button>
      </div>
    </Dialog>
  );
}
