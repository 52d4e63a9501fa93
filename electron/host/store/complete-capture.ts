import type { Database } from 'better-sqlite3';
import type { Capture, Mark } from '../../../shared/model/capture.ts';
import type { Entry } from './append.ts';
import { createAppender } from './append.ts';
import type { CaptureRow } from './capture-rows.ts';
import { marksOf } from './capture-rows.ts';
import { bytesOf } from './raw-bytes.ts';

/**
 * Adds to an interrupted capture what a file of the same capture has more: the lines that the store refused while it was recorded.
 * The file must begin with all that the store holds; else it is left as it is.
 *
 * @returns whether anything was added
 */
export function completeFrom(db: Database, row: CaptureRow, capture: Capture): boolean {
  if (row.status !== 'interrupted' || capture.lines.length <= row.lines) return false;
  if (capture.readings.length < row.readings || !beginsAsStored(db, row, capture)) return false;
  const readings = Map.groupBy(capture.readings.slice(row.readings), ({ line }) => line);
  const entries = capture.lines.slice(row.lines).map((line): Entry => ({
    kind: 'line',
    elapsedS: line.elapsedS,
    port: line.port,
    bytes: bytesOf(line),
    readings: (readings.get(line.seq) ?? []).map(({ role, unit, value, flag }) => ({
      role,
      unit,
      value,
      ...(flag && { flag }),
    })),
  }));
  const known = new Set(marksOf(db, row.key).map(nameOf));
  const marks = capture.marks.filter((mark) => !known.has(nameOf(mark)));
  createAppender(db, row.key, undefined).append([...entries, ...marks.map((mark): Entry => ({ kind: 'mark', mark }))]);
  return true;
}

const nameOf = ({ elapsedS, kind, text }: Mark): string => JSON.stringify([elapsedS, kind, text]);

function beginsAsStored(db: Database, row: CaptureRow, capture: Capture): boolean {
  const lines = db.prepare<[number], { seq: number; raw: Buffer }>(
    'SELECT seq, raw FROM line WHERE capture = ? ORDER BY seq',
  );
  let at = 0;
  for (const { seq, raw } of lines.iterate(row.key)) {
    const line = capture.lines[at];
    at += 1;
    if (!line || line.seq !== seq || !bytesOf(line).equals(raw)) return false;
  }
  return true;
}
