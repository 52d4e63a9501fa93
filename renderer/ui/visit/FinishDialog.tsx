import type { CaptureView } from '../../../shared/contract/api.ts';
import { sweepsOf } from '../../../shared/model/sweeps.ts';
import { validTrials } from '../../../shared/model/trials/valid-trials.ts';
import { useHostAction } from '../../state/host-calls.ts';
import { useWorkbench } from '../../state/workbench.ts';
import { Button } from '../controls/Button.tsx';
import { Dialog } from '../controls/Dialog.tsx';
import { Notice } from '../Notice.tsx';

/** Finishing cannot be undone, so it is confirmed first, with a list of what is still missing. */
export function FinishDialog({ capture, onClose }: { capture: CaptureView; onClose: () => void }) {
  const finish = useHostAction('captures.finish', ['captures.list']);
  const go = useWorkbench((state) => state.go);
  const has = (kind: CaptureView['marks'][number]['kind']) => capture.marks.some((mark) => mark.kind === kind);
  const missing = [
    ...(has('as-found') ? [] : ['as-found']),
    ...(sweepsOf(capture.marks).some(({ isVoid }) => !isVoid) ? [] : ['sweep']),
    ...(validTrials(capture.trials).length > 0 ? [] : ['light-off trials']),
    ...(has('as-left') ? [] : ['as-left']),
  ];
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
      {missing.length > 0 && <Notice tone="warning" text={`Not recorded: ${missing.join(', ')}.`} />}
      {finish.fault && <Notice tone="bad" text={finish.fault.message} />}
      <div className="row">
        <Button size="large" onClick={onClose}>
          Continue recording
        </Button>
        <Button kind="stop" size="large" disabled={finish.busy} onClick={() => void finishVisit()}>
          Finish
        </Button>
      </div>
    </Dialog>
  );
}
