import type { Database } from 'better-sqlite3';
import type { Capture, Mark, RawLine } from '../../../../shared/model/capture.ts';
import { isPractice } from '../../../../shared/model/practice-mark.ts';
import type { Entry } from '../append.ts';
import { createAppender } from '../append.ts';
import { markPractice } from '../captures.ts';
import type { CaptureRow } from '../read/capture-rows.ts';
import { marksOf } from '../read/capture-rows.ts';
import { bytesOf } from '../read/raw-bytes.ts';

/**
 * Adds to an interrupted capture what a file of the same capture has more: the lines that the store refused while it was recorded.
 * Most often they come behind those that the store holds. Of lines that came too fast, the store may have kept later ones and refused
 * earlier ones; then all are put in anew, in the order of the file.
 *
 * Whatever the store holds must be in the file, in the same order; else it is left as it is.
 *
 * @returns whether anything was added
 */
export function completeFrom(db: Database, row: CaptureRow, capture: Capture): boolean {
  if (row.status !== 'interrupted' || capture.lines.length <= row.lines) return false;
  if (capture.readings.length < row.readings) return false;
  const held = howHeld(db, row, capture);
  if (held === 'not') return false;
  const known = new Set(marksOf(db, row.key).map(markText));
  const marks = capture.marks
    .filter((mark) => !known.has(markText(mark)))
    .map((mark): Entry => ({ kind: 'mark', mark }));
  db.transaction(() => {
    if (isPractice(capture)) markPractice(db, row.key);
    if (held === 'with-holes') {
      for (const table of ['reading', 'line']) db.prepare(`DELETE FROM ${table} WHERE capture = ?`).run(row.key);
      db.prepare('UPDATE capture SET lines = 0, readings = 0 WHERE key = ?').run(row.key);
    }
    const [lines, readings] = held === 'with-holes' ? [0, 0] : [row.lines, row.readings];
    createAppender(db, row.key, undefined).append([...linesOf(capture, lines, readings), ...marks]);
  }).immediate();
  return true;
}

/** The lines of a capture behind its first `lines`, with their readings, which are behind its first `readings`. */
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

/** What tells two marks apart, as text. */
export const markText = ({ elapsedS, kind, text }: Mark): string => JSON.stringify([elapsedS, kind, text]);

/** Whether the file holds all lines of the store in their order, and whether it begins with them. */
function howHeld(db: Database, row: CaptureRow, { lines }: Capture): 'at-the-beginning' | 'with-holes' | 'not' {
  const stored = db.prepare<[number], { port: string; raw: Buffer }>(
    'SELECT port, raw FROM line WHERE capture = ? ORDER BY seq',
  );
  let next = 0;
  let holes = 0;
  for (const { port, raw } of stored.iterate(row.key)) {
    const isThis = (line: RawLine | undefined) =>
      line === undefined || (line.port === port && bytesOf(line).equals(raw));
    for (; !isThis(lines[next]); next += 1) holes += 1;
    if (next === lines.length) return 'not';
    next += 1;
  }
  return holes === 0 ? 'at-the-beginning' : 'with-holes';
}
