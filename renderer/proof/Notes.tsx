import { visibleText } from '../../shared/model/visible-text.ts';
import type { CaptureView } from '../../shared/contract/api.ts';
import { formatWallTime } from '../../shared/model/format.ts';
import { useHostAction } from '../state/host-calls.ts';
import { useWorkbench } from '../state/workbench.ts';
import { Button } from '../ui/controls/Button.tsx';
import { FieldFrame } from '../ui/controls/Field.tsx';
import { Panel } from '../ui/Panel.tsx';
import { Notice } from '../ui/Notice.tsx';

/** Notes to the capture: the only thing that can still be added to a complete one. */
export function Notes({ capture }: { capture: CaptureView }) {
  const note = useHostAction('captures.note');
  const text = useWorkbench((state) => state.proofNote);
  const technician = useWorkbench((state) => state.technician);
  const change = useWorkbench((state) => state.change);
  const add = async () => {
    const by = technician.trim();
    const done = await note.run({ capture: capture.id, text: text.trim(), ...(by !== '' && { by }) });
    if (done) change({ proofNote: '' });
  };
  return (
    <Panel name="Notes">
      <ul className="note-list">
        {capture.notes.map((one) => (
          <li key={one.at + one.text}>
            <p>{visibleText(one.text)}</p>
            <p className="soft">{visibleText([one.by, formatWallTime(one.at)].filter(Boolean).join(', '))}</p>
          </li>
        ))}
      </ul>
      <FieldFrame name="Add a note">
        {({ input }) => (
          <textarea
            id={input}
            rows={3}
            maxLength={4000}
            value={text}
            onChange={(event) => change({ proofNote: event.target.value })}
          />
        )}
      </FieldFrame>
      {note.fault && <Notice tone="bad" text={note.fault.message} />}
      <div className="row">
        <Button disabled={text.trim() === '' || note.busy} onClick={() => void add()}>
          Add note
        </Button>
      </div>
    </Panel>
  );
}
