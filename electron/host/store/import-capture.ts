import type { Database } from 'better-sqlite3';
import type { Capture } from '../../../shared/model/capture.ts';
import { createChannelFinder } from './append.ts';
import { findOrAddBurner } from './burners.ts';
import { findRow } from './capture-rows.ts';
import { addMeter, addNote, addTrial } from './captures.ts';
import { bytesOf } from './raw-bytes.ts';

/**
 * Puts a capture that was read from a file into the store, complete or interrupted as it was. All of it or nothing.
 *
 * @param burnerId  the burner it belongs to; without, the one with the same facts, made when there is none
 * @param addedAt   ISO 8601, now
 * @returns false when a capture of this id is there already; then nothing is changed
 */
export function importCapture(db: Database, capture: Capture, burnerId: string | undefined, addedAt: string): boolean {
  const run = db.transaction((): boolean => {
    const found = findRow(db, capture.id);
    if (typeof found === 'object' && found.id === capture.id) return false;
    const burner = burnerId ?? (capture.burner && findOrAddBurner(db, capture.burner, capture.setup));
    const last = Math.max(0, ...latest(capture));
    const { lastInsertRowid } = db
      .prepare(
        `INSERT INTO capture (id, started_at, added_at, status, technician, burner_id, burner, setup,
           lines, readings, duration_s) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
      )
      .run(
        capture.id,
        capture.startedAt ?? null,
        addedAt,
        capture.interrupted ? 'interrupted' : 'complete',
        capture.technician ?? null,
        burner ?? null,
        capture.burner ? JSON.stringify(capture.burner) : null,
        JSON.stringify(capture.setup),
        capture.lines.length,
        capture.readings.length,
        last,
      );
    const key = Number(lastInsertRowid);
    for (const meter of capture.meters) addMeter(db, key, meter);
    insertLines(db, key, capture);
    insertReadings(db, key, capture);
    const mark = db.prepare('INSERT INTO mark (capture, elapsed_s, kind, text) VALUES (?, ?, ?, ?)');
    for (const { elapsedS, kind, text } of capture.marks) mark.run(key, elapsedS, kind, text);
    for (const trial of capture.trials) addTrial(db, key, trial);
    for (const note of capture.notes) addNote(db, key, note);
    return true;
  });
  return run.immediate();
}

/** The latest times, one of each kind; the rows of a CSV need not be sorted. */
const latest = (capture: Capture): number[] => [
  capture.readings.reduce((last, reading) => Math.max(last, reading.elapsedS), 0),
  capture.lines.reduce((last, line) => Math.max(last, line.elapsedS), 0),
  capture.marks.reduce((last, mark) => Math.max(last, mark.elapsedS), 0),
];

function insertLines(db: Database, key: number, capture: Capture): void {
  const insert = db.prepare('INSERT INTO line (capture, seq, elapsed_s, port, raw) VALUES (?, ?, ?, ?, ?)');
  for (const line of capture.lines) insert.run(key, line.seq, line.elapsedS, line.port, bytesOf(line));
}

function insertReadings(db: Database, key: number, capture: Capture): void {
  const insert = db.prepare(
    'INSERT INTO reading (capture, n, channel, elapsed_s, value, flag, line, raw) VALUES (?, ?, ?, ?, ?, ?, ?, ?)',
  );
  const channels = createChannelFinder(db, key);
  const texts = new Map(capture.lines.map((line) => [line.seq, line.raw]));
  capture.readings.forEach((reading, index) => {
    // The text of a line is kept once, with the line.
    const raw = reading.line !== undefined && texts.get(reading.line) === reading.raw ? null : reading.raw;
    insert.run(
      key,
      index + 1,
      channels.find(reading.role, reading.unit),
      reading.elapsedS,
      reading.flag ? null : reading.value,
      reading.flag ?? null,
      reading.line ?? null,
      raw,
    );
  });
}
