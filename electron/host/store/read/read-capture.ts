import type { Database } from 'better-sqlite3';
import type { BurnerFacts, Capture, RawLine } from '../../../../shared/model/capture.ts';
import type { Flag, Reading, Unit } from '../../../../shared/model/reading.ts';
import type { CaptureRow } from './capture-rows.ts';
import { channelsOf, marksOf, metersOf, notesOf, setupOf } from './capture-rows.ts';
import { trialsOf } from '../trials.ts';
import { textOf } from './raw-bytes.ts';

interface LineRow {
  seq: number;
  elapsed_s: number;
  port: string;
  raw: Buffer;
}

/** The columns of the table `reading` that describe the reading itself. */
export interface ReadingRow {
  channel: number;
  elapsed_s: number;
  value: number | null;
  flag: string | null;
  line: number | null;
  raw: string | null;
}

/** One whole capture, for analysis, export and report. Reads one consistent state while recording continues. */
export function readCapture(db: Database, row: CaptureRow): Capture {
  return db.transaction((): Capture => {
    const lines = readLines(db, row.key);
    return {
      id: row.id,
      ...(row.started_at !== null && { startedAt: row.started_at }),
      ...(row.technician !== null && { technician: row.technician }),
      ...(row.status !== 'complete' && { interrupted: true }),
      ...(row.practice === 1 && { practice: true }),
      ...(row.burner !== null && { burner: JSON.parse(row.burner) as BurnerFacts }),
      meters: metersOf(db, row.key),
      setup: setupOf(row),
      readings: readReadings(db, row.key, lines),
      lines,
      marks: marksOf(db, row.key),
      trials: trialsOf(db, row.key).map(({ id: _id, ...trial }) => trial),
      notes: notesOf(db, row.key),
    };
  })();
}

function readLines(db: Database, key: number): RawLine[] {
  return db
    .prepare<[number], LineRow>('SELECT seq, elapsed_s, port, raw FROM line WHERE capture = ? ORDER BY seq')
    .all(key)
    .map((line) => ({ seq: line.seq, elapsedS: line.elapsed_s, port: line.port, ...textOf(line.raw) }));
}

function readReadings(db: Database, key: number, lines: RawLine[]): Reading[] {
  const channels = new Map(channelsOf(db, key).map((channel) => [channel.key, channel]));
  const texts = new Map(lines.map((line) => [line.seq, line.raw]));
  const rows = db
    .prepare<[number], ReadingRow>(
      'SELECT channel, elapsed_s, value, flag, line, raw FROM reading WHERE capture = ? ORDER BY n',
    )
    .all(key);
  return rows.map((row): Reading => {
    const channel = channels.get(row.channel);
    if (!channel) throw new Error(`reading of an unknown channel: ${row.channel}`);
    return {
      role: channel.role,
      unit: channel.unit as Unit,
      elapsedS: row.elapsed_s,
      value: row.value ?? Number.NaN,
      ...(row.flag !== null && { flag: row.flag as Flag }),
      raw: row.raw ?? texts.get(row.line ?? -1) ?? '',
      ...(row.line !== null && { line: row.line }),
    };
  });
}
