import { keepPreviousData, useQuery } from '@tanstack/react-query';
import { useEffect, useId, useRef, useState } from 'react';
import { formatStart } from '../../../shared/model/format.ts';
import type { Mapping } from '../../../shared/model/logger/mapping.ts';
import type { MappingPreview } from '../../../shared/model/logger/preview.ts';
import { callHostOrThrow, faultOf } from '../../state/host-calls.ts';
import { Button } from '../../ui/controls/Button.tsx';
import { Notice } from '../../ui/Notice.tsx';
import { Panel } from '../../ui/Panel.tsx';
import type { ForeignFile } from '../use-file-import.ts';
import { MappedTable } from './MappedTable.tsx';
import { PreviewPlots } from './PreviewPlots.tsx';
import { Questions } from './Questions.tsx';
import { TextSettings } from './TextSettings.tsx';
import { waitingFor } from './waiting-for.ts';
import './mapper.css';

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
  const [mapping, setMapping] = useState<Mapping>();
  const { data, error, isFetching } = useQuery({
    queryKey: ['files.preview', file.key, mapping],
    queryFn: ({ signal }) =>
      callHostOrThrow(
        'files.preview',
        { file: { name: file.name, bytes: file.bytes }, ...(mapping && { mapping }) },
        signal,
      ),
    placeholderData: keepPreviousData,
    // What is remembered may change with every import.
    gcTime: 0,
    structuralSharing: false,
  });
  const fault = faultOf(error);
  const box = useRef<HTMLDivElement>(null);
  const reasonId = useId();
  useNextAnswer(box, data, isFetching);
  const reason = waitingFor(data, { isReading: isFetching, isImporting: busy, fault });
  return (
    <Panel name={`How to read ${file.name}`} className="mapper">
      <div ref={box} className="stack">
        <p>
          This is the file of another logger. Nothing is taken in before you press Import.
          {further > 0 && ` ${further === 1 ? 'One more file waits' : `${further} more files wait`} after it.`}
        </p>
        {fault && <Notice tone="bad" text={fault.message} />}
        {data?.remembered && <RememberedNotice remembered={data.remembered} />}
        {data && (
          <>
            <Questions questions={data.questions} onAnswer={setMapping} />
            {data.problem !== undefined && <Notice tone="bad" text={data.problem} />}
            <TextSettings preview={data} onChange={setMapping} />
            {data.table ? (
              <MappedTable table={data.table} mapping={data.mapping} onChange={setMapping} />
            ) : (
              // Long lines are scrolled from the keyboard as well.
              // oxlint-disable-next-line jsx-a11y/no-noninteractive-tabindex
              <pre className="first-lines" tabIndex={0} aria-label="The first lines of the file">
                {data.lines.join('\n')}
              </pre>
            )}
            <PreviewPlots curves={data.curves} />
            {data.taken !== undefined && <p>{data.taken}</p>}
            {data.notices.map((notice) => (
              <Notice key={notice} tone="warning" text={notice} />
            ))}
          </>
        )}
      </div>
      <div className="row mapper-end">
        <output>
          <span id={reasonId}>{reason ?? 'Ready. The way it is read will be remembered for this heading.'}</span>
        </output>
        <Button
          kind="main"
          disabled={reason !== undefined}
          aria-describedby={reasonId}
          onClick={() => data && onImport(data.mapping)}
        >
          Import
        </Button>
        <Button onClick={onCancel}>Do not import</Button>
        {data && Object.keys(data.mapping).length > 0 && <Button onClick={() => setMapping({})}>Guess anew</Button>}
      </div>
    </Panel>
  );
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
