import type { Database } from 'better-sqlite3';
import type { Capture, Mark, RawLine } from '../../../../shared/model/capture.ts';
import { isPractice } from '../../../../shared/model/practice-mark.ts';
import type { Entry } from '../append.ts';
import { createAppender } from '../append.ts';
import { indexWords, markPractice } from '../captures.ts';
import type { CaptureRow } from '../read/capture-rows.ts';
import { marksOf } from '../read/capture-rows.ts';
import { bytesOf } from '../read/raw-bytes.ts';

/**
 * Adds to an interrupted capture the lines that a file of the same capture has and the store refused while it was recorded.
 * Most often they follow those that the store has. Of lines that came too fast, the store may have stored later ones and refused
 * earlier ones; then all are inserted again, in the order of the file.
 *
 * All lines of the store must be in the file, in the same order; else the capture is left as it is.
 *
 * @returns whether anything was added
 */
export function completeFromFile(db: Database, row: CaptureRow, capture: Capture): boolean {
  if (row.status !== 'interrupted' || capture.lines.length <= row.lines) return false;
  if (capture.readings.length < row.readings) return false;
  const match = matchStoredLines(db, row, capture);
  if (match === 'none') return false;
  const known = new Set(marksOf(db, row.key).map(markText));
  const marks = capture.marks
    .filter((mark) => !known.has(markText(mark)))
    .map((mark): Entry => ({ kind: 'mark', mark }));
  db.transaction(() => {
    if (isPractice(capture)) markPractice(db, row.key);
    if (match === 'with-gaps') {
      for (const table of ['reading', 'line']) db.prepare(`DELETE FROM ${table} WHERE capture = ?`).run(row.key);
      db.prepare('UPDATE capture SET lines = 0, readings = 0 WHERE key = ?').run(row.key);
    }
    const [lines, readings] = match === 'with-gaps' ? [0, 0] : [row.lines, row.readings];
    createAppender(db, row.key, undefined).append([...linesOf(capture, lines, readings), ...marks]);
    indexWords(db, row.key);
  }).immediate();
  return true;
}

/** The lines of a capture after its first `lines`, with their readings, which come after its first `readings`. */
function linesOf(capture: Capture, lines: number, readings: number): Entry[] {
  const ofLine = Map.groupBy(capture.readings.slice(readings), ({ line }) => line);
  return capture.lines.slice(lines).map((line) => ({
    kind: 'line',
    elapsedS: line.elapsedS,
    port: line.port,
    bytes: bytesOf(line),
    readings: (ofLine.get(line.seq) ?? []).map(({ role, unit, value, flag }) => ({
      role,
      unit,
      value,
      ...(flag && { flag }),
    })),
  }));
}

/** A mark as text, for comparison. */
export const markText = ({ elapsedS, kind, text }: Mark): string => JSON.stringify([elapsedS, kind, text]);

/** Whether the file has all lines of the store in their order: as its first lines, or with lines between them that the store lacks. */
function matchStoredLines(db: Database, row: CaptureRow, { lines }: Capture): 'as-first-lines' | 'with-gaps' | 'none' {
  const stored = db.prepare<[number], { port: string; raw: Buffer }>(
    'SELECT port, raw FROM line WHERE capture = ? ORDER BY seq',
  );
  let next = 0;
  let missing = 0;
  for (const { port, raw } of stored.iterate(row.key)) {
    const isSame = (line: RawLine | undefined) =>
      line === undefined || (line.port === port && bytesOf(line).equals(raw));
    for (; !isSame(lines[next]); next += 1) missing += 1;
    if (next === lines.length) return 'none';
    next += 1;
  }
  return missing === 0 ? 'as-first-lines' : 'with-gaps';
}
