import { useState } from 'react';
import { visibleText } from '../../shared/model/visible-text.ts';
import type { CaptureView } from '../../shared/contract/api.ts';
import { formatDuration, formatElapsed, formatPressureRange, noNumber } from '../../shared/model/format.ts';
import type { PressureUnit } from '../../shared/model/units.ts';
import type { VisitItem } from '../../shared/report/charts/visit-items.ts';
import { verdictWords } from '../plot/VisitBand.tsx';
import { useHostAction } from '../state/host-calls.ts';
import type { Recording } from '../state/live/recording.ts';
import { useWorkbench } from '../state/workbench.ts';
import { Button } from '../ui/controls/Button.tsx';
import { Dialog } from '../ui/controls/Dialog.tsx';
import { FieldFrame } from '../ui/controls/Field.tsx';
import { Notice } from '../ui/Notice.tsx';
import { lossWords } from './loss-words.ts';
import { readingRange } from '../state/live/span-statistics.ts';

/** One sweep or trial of the visit: when, at which pressures, what came of it; a sweep can be discarded, with a reason. */
export function ItemDialog({
  capture,
  item,
  recording,
  unit,
  onClose,
}: {
  capture: CaptureView;
  item: VisitItem;
  recording: Recording | undefined;
  unit: PressureUnit;
  onClose: () => void;
}) {
  const go = useWorkbench((state) => state.go);
  const { name, kind, fromS, toS, verdict, reason } = item;
  const endS = Math.min(toS, recording?.buffer.endS ?? toS);
  const range = recording && readingRange(recording.buffer.column('pilot_pressure'), fromS, endS);
  const rows: [string, string][] = [
    ['From, min:s', formatElapsed(fromS)],
    ['To, min:s', toS === Infinity ? 'still running' : formatElapsed(toS)],
    ['Length', formatDuration(endS - fromS)],
    ['Pilot pressure', range ? formatPressureRange(range, unit) : noNumber],
    [kind === 'sweep' ? 'Verdict' : 'Result', verdictWords[verdict] + (reason ? `: ${reason}` : '')],
    ...(kind === 'sweep' ? [['Flame lost', lossWords(capture.marks, item)] as [string, string]] : []),
  ];
  return (
    <Dialog name={name} onClose={onClose}>
      <dl className="facts">
        {rows.map(([label, value]) => (
          <div key={label}>
            <dt>{label}</dt>
            <dd>{visibleText(value)}</dd>
          </div>
        ))}
      </dl>
      <div className="row">
        <Button size="large" onClick={onClose}>
          Close
        </Button>
        {kind === 'trial' && (
          <Button size="large" onClick={() => go('light-off')}>
            Go to the trials
          </Button>
        )}
      </div>
      {kind === 'sweep' && verdict !== 'discarded' && <Discard capture={capture} sweep={item} onDone={onClose} />}
    </Dialog>
  );
}

/** Discards a sweep with a reason; while recording, another can be begun at once. It stays in the record. */
function Discard({ capture, sweep, onDone }: { capture: CaptureView; sweep: VisitItem; onDone: () => void }) {
  const [reason, setReason] = useState('');
  const discard = useHostAction('captures.voidSweep', ['comparison.run', 'report.make']);
  const mark = useHostAction('captures.mark');
  const fault = discard.fault ?? mark.fault;
  const isMissing = reason.trim() === '';
  const run = async (begins: boolean) => {
    if (!(await discard.run({ capture: capture.id, fromS: sweep.fromS, reason }))) return;
    if (begins && !(await mark.run({ capture: capture.id, kind: 'sweep-start', text: '' }))) return;
    onDone();
  };
  return (
    <>
      <FieldFrame
        name="Reason to discard it"
        help={`${isMissing ? 'Enter it first. ' : ''}The sweep stays in the record; no result counts it anymore.`}
      >
        {({ input, describedBy }) => (
          <input
            id={input}
            aria-describedby={describedBy}
            maxLength={2000}
            value={reason}
            onChange={(event) => setReason(event.target.value)}
          />
        )}
      </FieldFrame>
      {fault && <Notice tone="bad" text={fault.message} />}
      <div className="row">
        <Button kind="stop" size="large" disabled={isMissing || discard.busy} onClick={() => void run(false)}>
          Discard sweep
        </Button>
        {capture.status === 'recording' && sweep.verdict === 'running' && (
          <Button kind="stop" size="large" disabled={isMissing || discard.busy} onClick={() => void run(true)}>
            Discard and begin again
          </Button>
        )}
      </div>
    </>
  );
}
