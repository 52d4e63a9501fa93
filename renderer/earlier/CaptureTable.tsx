import { Fragment, useState, type ReactNode } from 'react';
import { useHostAction } from '../state/host-calls.ts';
import { useOpenCapture } from '../state/open-capture.ts';
import { TextField } from '../ui/controls/Field.tsx';
import { Notice } from '../ui/Notice.tsx';
import { CaptureRow } from './CaptureRow.tsx';
import { useFirstPage, useFurtherPages, useSettled } from './use-capture-pages.ts';
import { useRowWindow } from './use-row-window.ts';

/** Long enough for the next letter, too short to be noticed. */
const settledMs = 80;

/** The captures of the store, newest first, with a search and the actions on each. Only the rows near the view are on the page. */
export function CaptureTable() {
  const [typed, setTyped] = useState('');
  const search = useSettled(typed.trim(), settledMs);
  const { total, captures: firstPage, fault } = useFirstPage(search);
  const { body, rows, rest, measureRow, handlers } = useRowWindow(total ?? 0);
  const further = useFurtherPages(
    search,
    rows.map(({ index }) => index),
  );
  const { open, continueRecording, fault: openFault } = useOpenCapture();
  const finish = useHostAction('captures.finish');
  const shownFault = fault ?? openFault ?? finish.fault;
  if (total === 0 && search === '') return <p>No captures yet. Record one, or import a file.</p>;
  return (
    <div className="capture-table">
      <div className="capture-search">
        <TextField name="Search" type="search" value={typed} onChange={setTyped} />
        <output>{total !== undefined && foundText(total, search)}</output>
      </div>
      {shownFault && <Notice tone="bad" text={shownFault.message} />}
      {total !== 0 && (
        <table aria-label="Captures" aria-rowcount={(total ?? 0) + 1} {...handlers}>
          <thead>
            <tr aria-rowindex={1}>
              <th>Burner</th>
              <th className="day">Date</th>
              <th className="figure length">Length</th>
              <th className="figure trials">Trials</th>
              <th className="status">Status</th>
              <th className="actions">
                <span className="visually-hidden">Actions</span>
              </th>
            </tr>
          </thead>
          <tbody ref={body}>
            {rows.map(({ index, gap, size }) => {
              const capture = firstPage?.[index] ?? further(index);
              return (
                <Fragment key={index}>
                  {gap > 0 && <Blank height={gap} />}
                  {capture ? (
                    <CaptureRow
                      capture={capture}
                      index={index}
                      measureRow={measureRow}
                      onOpen={() => void open(capture.id)}
                      onContinue={() => void continueRecording(capture.id)}
                      onComplete={() => void finish.run({ capture: capture.id, interrupted: true })}
                    />
                  ) : (
                    <Blank height={size}>Reading</Blank>
                  )}
                </Fragment>
              );
            })}
            <Blank height={rest} />
          </tbody>
        </table>
      )}
    </div>
  );
}

/** How many captures there are, or were found. */
function foundText(total: number, search: string): string {
  if (total === 0) return 'Nothing found';
  const captures = `${total.toLocaleString('en-US')} ${total === 1 ? 'capture' : 'captures'}`;
  return search === '' ? captures : `${captures} found`;
}

/** The place of rows that are not on the page. */
function Blank({ height, children }: { height: number; children?: ReactNode }) {
  if (height <= 0) return null;
  return (
    <tr className="blank" aria-hidden="true">
      {/* A narrow table has four columns. */}
      <td colSpan={4} className="soft" style={{ height }}>
        {children}
      </td>
    </tr>
  );
}
