import { useState } from 'react';
import type { CaptureView } from '../../shared/contract/api.ts';
import { workbenchState, useWorkbench } from '../state/workbench.ts';
import { useCapture } from '../state/current-capture.ts';
import { useBurnerState } from '../state/live/burner-state.ts';
import { FinishDialog } from '../ui/visit/FinishDialog.tsx';
import { InterruptedActions } from '../ui/visit/InterruptedActions.tsx';
import { Button } from '../ui/controls/Button.tsx';
import { Panel } from '../ui/Panel.tsx';
import { Notice } from '../ui/Notice.tsx';
import { Working } from '../ui/Working.tsx';
import { Notes } from './Notes.tsx';
import { ReportPreview } from './ReportPreview.tsx';
import { SavePanels } from './SavePanels.tsx';
import { useReportPreview } from './report-preview.ts';
import './proof.css';

/** Step 7: finish the visit, save the report and the data. */
export function ProofPlace() {
  const capture = useCapture();
  return (
    <>
      <h1>Proof</h1>
      {capture ? (
        <Proof capture={capture} />
      ) : (
        <Panel name="Nothing recorded yet">
          <p>Record a visit, or open an earlier one.</p>
        </Panel>
      )}
    </>
  );
}

function Proof({ capture }: { capture: CaptureView }) {
  const earlierId = useWorkbench((state) => state.earlierId);
  const preview = useReportPreview(capture, earlierId);
  const hasAlarm = useBurnerState()?.alarm !== undefined;
  return (
    <div className="proof">
      <div className="stack">
        <VisitPanel capture={capture} />
        <SavePanels captureId={capture.id} earlierId={earlierId} />
        <Notes capture={capture} />
      </div>
      <div className="stack">
        {preview.busy && <Working name="Making the report" onCancel={preview.cancel} />}
        {preview.fault && <Notice tone="warning" text={preview.fault.message} />}
        {!preview.busy && (
          <div className="row">
            <Button onClick={() => void preview.remake()}>Update the report</Button>
          </div>
        )}
        {preview.html && !hasAlarm && <ReportPreview html={preview.html} />}
        {hasAlarm && <Notice tone="bad" text="The report is shown again when the alarm is over." />}
      </div>
    </div>
  );
}

function VisitPanel({ capture }: { capture: CaptureView }) {
  const [isFinishing, setFinishing] = useState(false);
  const { go, startNewVisit } = workbenchState();
  const newVisit = () => {
    startNewVisit(capture);
    go('burner');
  };
  if (capture.status === 'interrupted')
    return (
      <Panel name="Visit">
        <p>Interrupted.</p>
        <InterruptedActions capture={capture} />
      </Panel>
    );
  const isComplete = capture.status === 'complete';
  return (
    <Panel name="Visit">
      <p>
        {isComplete
          ? 'Complete. Nothing more is recorded; sweeps and trials can still be corrected or discarded, with a reason.'
          : 'Still open: sweeps, trials and settings can still be added.'}
      </p>
      <div className="row">
        {isComplete ? (
          <Button onClick={newVisit}>New visit</Button>
        ) : (
          <Button kind="stop" size="large" onClick={() => setFinishing(true)}>
            Finish visit
          </Button>
        )}
      </div>
      {isFinishing && <FinishDialog capture={capture} onClose={() => setFinishing(false)} />}
    </Panel>
  );
}
