import { useEffect, useId, useRef } from 'react';
import { formatStart, formatWallTime } from '../../../shared/model/format.ts';
import type { Mapping } from '../../../shared/model/logger/mapping.ts';
import type { MappingPreview } from '../../../shared/model/logger/preview.ts';
import { Button } from '../../ui/controls/Button.tsx';
import { Notice } from '../../ui/Notice.tsx';
import { Panel } from '../../ui/Panel.tsx';
import type { ForeignFile } from '../use-file-import.ts';
import { MappedTable } from './MappedTable.tsx';
import { PreviewPlots } from './PreviewPlots.tsx';
import { Questions } from './Questions.tsx';
import { TextSettings } from './TextSettings.tsx';
import { useMappingPreview } from './use-mapping-preview.ts';
import { waitingFor } from './waiting-for.ts';
import './mapper.css';

const readyAndRemembered = 'Ready. The way it is read will be remembered for this heading.';

/** How a file of another logger is to be read: what it is taken for, what is open, and what comes of it; then its import. */
export function FileMapper({
  file,
  further,
  busy,
  onImport,
  onCancel,
}: {
  file: ForeignFile;
  /** Files that wait after this one. */
  further: number;
  busy: boolean;
  onImport: (mapping: Mapping) => void;
  onCancel: () => void;
}) {
  const { preview, fault, isReading, change } = useMappingPreview(file);
  const box = useRef<HTMLDivElement>(null);
  const reasonId = useId();
  useNextAnswer(box, preview, isReading);
  const reason = waitingFor(preview, { isReading, isImporting: busy, fault });
  return (
    <Panel name={`How to read ${file.name}`} className="mapper">
      <div ref={box} className="stack">
        <p>
          This is the file of another logger. Nothing is taken in before you press Import.
          {further > 0 && ` ${further === 1 ? 'One more file waits' : `${further} more files wait`} after it.`}
        </p>
        {fault && <Notice tone="bad" text={fault.message} />}
        {preview?.remembered && <RememberedNotice remembered={preview.remembered} />}
        {preview && (
          <>
            <Questions questions={preview.questions} onAnswer={change} />
            {preview.problem !== undefined && <Notice tone="bad" text={preview.problem} />}
            <TextSettings preview={preview} onChange={change} />
            {preview.table ? (
              <MappedTable table={preview.table} onChange={change} />
            ) : (
              // Long lines are scrolled from the keyboard as well.
              // oxlint-disable-next-line jsx-a11y/no-noninteractive-tabindex
              <pre className="first-lines" tabIndex={0} aria-label="The first lines of the file">
                {preview.lines.join('\n')}
              </pre>
            )}
            <PreviewPlots curves={preview.curves} />
            {preview.taken !== undefined && (
              <>
                <p>{startWords(preview.start)}</p>
                <p>{preview.taken}</p>
              </>
            )}
            {preview.notices.map((notice) => (
              <Notice key={notice} tone="warning" text={notice} />
            ))}
          </>
        )}
      </div>
      <div className="row mapper-end">
        <output>
          <span id={reasonId}>{reason ?? (preview?.mapping.heading === false ? 'Ready.' : readyAndRemembered)}</span>
        </output>
        <Button
          kind="main"
          disabled={reason !== undefined}
          aria-describedby={reasonId}
          onClick={() => preview && onImport(preview.mapping)}
        >
          Import
        </Button>
        <Button onClick={onCancel}>Do not import</Button>
        {preview && Object.keys(preview.mapping).length > 0 && (
          <Button onClick={() => change(() => ({}))}>Guess anew</Button>
        )}
      </div>
    </Panel>
  );
}

/** When the visit began, and whose time zone that is. */
function startWords(start: MappingPreview['start']): string {
  if (!start) return 'The file gives no date: when the visit began stays unknown.';
  const zone = start.zone === 'file' ? '' : ' The file gives no time zone; it is that of this computer.';
  return `The visit began ${formatWallTime(start.at)}.${zone}`;
}

function RememberedNotice({
  remembered: { usedAt, misfit },
}: {
  remembered: NonNullable<MappingPreview['remembered']>;
}) {
  const when = formatStart({ startedAt: usedAt }, 'earlier').replace(/:\d\d \(.*\)$/u, '');
  return misfit === undefined ? (
    <Notice
      tone="plain"
      text={`Read as the last file with this heading was, on ${when}. Anything can be changed below.`}
    />
  ) : (
    <Notice
      tone="warning"
      text={`A file with this heading was imported on ${when}, but this one cannot be read in the same way: ${misfit} It is guessed anew.`}
    />
  );
}

/**
 * Moves the focus into the file when it is shown first, and from an answer that is gone to what is to be done next: the first open question,
 * else the import.
 */
function useNextAnswer(
  box: React.RefObject<HTMLDivElement | null>,
  data: MappingPreview | undefined,
  isFetching: boolean,
) {
  const isFirst = useRef(true);
  useEffect(() => {
    const panel = box.current?.closest('section');
    if (!panel || !data || isFetching) return;
    const isLost = document.activeElement === document.body || document.activeElement === null;
    if (!isFirst.current && !isLost) return;
    panel
      .querySelector<HTMLElement>('.question :is(button, select), .mapper-end button:enabled')
      ?.focus({ preventScroll: isFirst.current });
    // The beginning of the file comes first, whatever has the focus.
    if (isFirst.current) panel.scrollIntoView({ block: 'start' });
    isFirst.current = false;
  }, [box, data, isFetching]);
}
