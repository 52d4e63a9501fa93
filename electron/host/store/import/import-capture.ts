import type { Database } from 'better-sqlite3';
import type { Capture } from '../../../../shared/model/capture.ts';
import { isPractice } from '../../../../shared/model/practice-mark.ts';
import { createChannelFinder } from '../append.ts';
import type { BetweenChunks } from './incomplete-import.ts';
import { beginImport, yieldWriteLock, removeIncompleteImport, writeInChunks } from './incomplete-import.ts';
import { findOrAddBurner } from '../burners.ts';
import { findExactRow } from '../read/capture-rows.ts';
import { addMeter, addNote, markPractice } from '../captures.ts';
import { addTrial } from '../trials.ts';
import { createRowInserter } from '../row-inserter.ts';
import { completeFromFile } from './complete-capture.ts';
import { bytesOf } from '../read/raw-bytes.ts';

/**
 * Imports a capture that was read from a file, complete or interrupted as it was. All of it or nothing: it is written in
 * chunks and is invisible until the last one.
 *
 * An interrupted capture that the store has already gets the lines that only the file has (those that a full disk refused).
 *
 * @param burnerId  the burner it belongs to; without, the one with the same facts, added when there is none
 * @param addedAt   ISO 8601, now
 * @param between   called between two chunks, with the write lock released
 * @returns false when nothing was added, as the store had all of it
 */
export function importCapture(
  db: Database,
  capture: Capture,
  burnerId: string | undefined,
  addedAt: string,
  between: BetweenChunks = yieldWriteLock,
): boolean {
  const existing = findExactRow(db, capture.id);
  if (existing) return completeFromFile(db, existing, capture);
  const key = beginImport(db, JSON.stringify(capture.setup), addedAt);
  insertLines(db, key, capture, between);
  insertReadings(db, key, capture, between);
  const makeVisible = db.transaction((): boolean => {
    if (findExactRow(db, capture.id)) return false; // another process imported it meanwhile
    const burner = burnerId ?? (capture.burner && findOrAddBurner(db, capture.burner, capture.setup));
    if (isPractice(capture)) markPractice(db, key);
    for (const meter of capture.meters) addMeter(db, key, meter);
    const mark = db.prepare('INSERT INTO mark (capture, elapsed_s, kind, text) VALUES (?, ?, ?, ?)');
    for (const { elapsedS, kind, text } of capture.marks) mark.run(key, elapsedS, kind, text);
    for (const trial of capture.trials) addTrial(db, key, trial);
    for (const note of capture.notes) addNote(db, key, note);
    db.prepare(
      `UPDATE capture SET id = ?, started_at = ?, status = ?, technician = ?, burner_id = ?, burner = ?, lines = ?, readings = ?,
         duration_s = ?, arriving = 0, owner_pid = NULL, owner_process = NULL, owner_host = NULL, heartbeat_ms = NULL
       WHERE key = ?`,
    ).run(
      capture.id,
      capture.startedAt ?? null,
      capture.interrupted ? 'interrupted' : 'complete',
      capture.technician ?? null,
      burner ?? null,
      capture.burner ? JSON.stringify(capture.burner) : null,
      capture.lines.length,
      capture.readings.length,
      Math.max(0, ...lastTimes(capture)),
      key,
    );
    return true;
  });
  const isAdded = makeVisible.immediate();
  if (!isAdded) removeIncompleteImport(db, key, between);
  return isAdded;
}

/** The last elapsed times of readings, lines and marks, seconds; the rows of a CSV need not be sorted. */
const lastTimes = (capture: Capture): number[] => [
  capture.readings.reduce((last, reading) => Math.max(last, reading.elapsedS), 0),
  capture.lines.reduce((last, line) => Math.max(last, line.elapsedS), 0),
  capture.marks.reduce((last, mark) => Math.max(last, mark.elapsedS), 0),
];

function insertLines(db: Database, key: number, capture: Capture, between: BetweenChunks): void {
  const rows = createRowInserter(db, 'line', ['capture', 'seq', 'elapsed_s', 'port', 'raw']);
  writeInChunks(db, key, capture.lines, between, rows, (line) => [
    key,
    line.seq,
    line.elapsedS,
    line.port,
    bytesOf(line),
  ]);
}

function insertReadings(db: Database, key: number, capture: Capture, between: BetweenChunks): void {
  const columns = ['capture', 'n', 'channel', 'elapsed_s', 'value', 'flag', 'line', 'raw'];
  const rows = createRowInserter(db, 'reading', columns);
  const channels = createChannelFinder(db, key);
  const texts = new Map(capture.lines.map((line) => [line.seq, line.raw]));
  writeInChunks(db, key, capture.readings, between, rows, (reading, index) => [
    key,
    index + 1,
    channels.find(reading.role, reading.unit),
    reading.elapsedS,
    reading.flag ? null : reading.value,
    reading.flag ?? null,
    reading.line ?? null,
    // The text of a line is stored once, with the line.
    reading.line !== undefined && texts.get(reading.line) === reading.raw ? null : reading.raw,
  ]);
}
