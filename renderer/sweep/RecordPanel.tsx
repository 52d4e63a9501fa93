import { useState } from 'react';
import { visibleText } from '../../shared/model/visible-text.ts';
import type { CaptureView } from '../../shared/contract/api.ts';
import type { Mark } from '../../shared/model/capture.ts';
import { formatElapsed } from '../../shared/model/format.ts';
import { isTurningBarred } from '../../shared/burner-state/permissions.ts';
import { isSweeping } from '../../shared/model/sweeps.ts';
import { markWords } from '../../shared/report/mark-words.ts';
import { useHostAction } from '../state/host-calls.ts';
import { useBurnerState } from '../state/live/burner-state.ts';
import { workbenchState, useWorkbench } from '../state/workbench.ts';
import { isAsFoundDue } from '../state/visit-steps.ts';
import { useStartRecording } from '../state/start-recording.ts';
import { Button } from '../ui/controls/Button.tsx';
import { Panel } from '../ui/Panel.tsx';
import { Announce, Notice } from '../ui/Notice.tsx';
import { Shape } from '../ui/Shape.tsx';
import { ConfirmRecord } from '../ui/visit/ConfirmRecord.tsx';
import { FinishDialog } from '../ui/visit/FinishDialog.tsx';
import { InterruptedActions } from '../ui/visit/InterruptedActions.tsx';

/** Start, sweep, marks and finish of a recording. */
export function RecordPanel({ capture, hasMeters }: { capture: CaptureView | undefined; hasMeters: boolean }) {
  return (
    <Panel name="Recording">
      {capture?.status === 'recording' ? (
        <WhileRecording capture={capture} />
      ) : (
        <Start capture={capture} hasMeters={hasMeters} />
      )}
    </Panel>
  );
}

/** While nothing is being recorded: what can be started depends on the current capture. */
function Start({ capture, hasMeters }: { capture: CaptureView | undefined; hasMeters: boolean }) {
  const start = useStartRecording();
  if (capture?.status === 'complete')
    return (
      <>
        <p className="soft">This visit is complete. A sweep can still be discarded from the time line.</p>
        <Button size="large" onClick={() => workbenchState().startNewVisit(capture)}>
          New visit to this burner
        </Button>
      </>
    );
  if (capture) return <InterruptedActions capture={capture} />;
  return (
    <>
      <Button kind="main" size="large" disabled={start.busy || !hasMeters} onClick={() => void start.run()}>
        <Shape name="solid-circle" />
        Start recording
      </Button>
      {!hasMeters && <p className="soft">Connect a meter first.</p>}
      {start.fault && <Notice tone="bad" text={start.fault.message} />}
    </>
  );
}

/** "0:12.3 As found: 2.28 inH2O, 4.61 V". */
function lastMark(mark: Mark): string {
  const { name, text } = markWords(mark);
  return visibleText(`${formatElapsed(mark.elapsedS)} ${name}${text && `: ${text}`}`);
}

function WhileRecording({ capture }: { capture: CaptureView }) {
  const noteText = useWorkbench((state) => state.noteText);
  const change = useWorkbench((state) => state.change);
  const mark = useHostAction('captures.mark');
  const [isFinishing, setFinishing] = useState(false);
  const addMark = (kind: 'note' | 'sweep-start' | 'sweep-end' | 'as-found', text = '', confirmed?: true) =>
    mark.run({ capture: capture.id, kind, text, confirmed });
  const sweeping = isSweeping(capture.marks);
  const last = capture.marks.at(-1);
  // As-found comes first, for as long as it can still be taken; under an alarm, or with the manometer's hose off, nothing does.
  const burner = useBurnerState();
  const isBarred = burner !== undefined && isTurningBarred(burner);
  const isAsFoundNext = isAsFoundDue(capture);
  return (
    <>
      <div className="record-grid">
        <Button
          kind={isAsFoundNext || isBarred ? 'plain' : 'main'}
          size="large"
          disabled={mark.busy || (isBarred && !sweeping)}
          aria-pressed={sweeping}
          onClick={() => void addMark(sweeping ? 'sweep-end' : 'sweep-start')}
        >
          <Shape name={sweeping ? 'solid-square' : 'right'} />
          {sweeping ? 'End sweep' : 'Begin sweep'}
        </Button>
        <Button
          kind={isAsFoundNext && !isBarred ? 'main' : 'plain'}
          size="large"
          disabled={mark.busy || isBarred}
          onClick={() => void addMark('as-found')}
        >
          <span>
            Record <span className="nowrap">as-found</span>
          </span>
        </Button>
        <div className="wide mark-row">
          <input
            className="input"
            aria-label="Note for the mark"
            placeholder="Note"
            value={noteText}
            onChange={(event) => change({ noteText: event.target.value })}
          />
          <Button
            disabled={mark.busy}
            onClick={() => void addMark('note', noteText).then((done) => done && change({ noteText: '' }))}
          >
            Add mark
          </Button>
        </div>
        <div className="wide mark-row">
          <p className="soft" aria-live="polite">
            {last && lastMark(last)}
          </p>
          <Button kind="stop" onClick={() => setFinishing(true)}>
            <Shape name="solid-square" />
            Finish
          </Button>
        </div>
      </div>
      <Announce text={sweeping ? 'The sweep is being recorded' : ''} />
      <ConfirmRecord
        fault={mark.fault}
        busy={mark.busy}
        onConfirm={() => void addMark('as-found', '', true)}
        onOver={mark.clear}
      />
      {isFinishing && <FinishDialog capture={capture} onClose={() => setFinishing(false)} />}
    </>
  );
}
