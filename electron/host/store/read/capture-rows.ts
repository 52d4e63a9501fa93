import type { Database } from 'better-sqlite3';
import type { CaptureSummary } from '../../../../shared/contract/api.ts';
import type { BurnerFacts, Mark, MeterFacts } from '../../../../shared/model/capture.ts';
import type { Role } from '../../../../shared/model/reading.ts';
import type { Setup } from '../../../../shared/model/setup.ts';
import { validTrials } from '../../../../shared/model/trials/valid-trials.ts';
import { trialsOf } from '../trials.ts';

/** A row of the table `capture`. `key` is valid in this store only, `id` everywhere. */
export interface CaptureRow {
  key: number;
  id: string;
  started_at: string | null;
  added_at: string;
  status: CaptureSummary['status'];
  technician: string | null;
  burner_id: string | null;
  burner: string | null;
  setup: string;
  /** 1 when any of it came from the practice bench. */
  practice: number;
  /** 1 when it was recorded into this store, not imported: only then its meters are this user's own. */
  recorded_here: number;
  lines: number;
  readings: number;
  duration_s: number;
  owner_host: string | null;
}

/** The capture with this id, or the only one whose id begins so. */
export function findRow(db: Database, id: string): CaptureRow | 'missing' | 'ambiguous' {
  const exact = db.prepare<[string], CaptureRow>('SELECT * FROM capture WHERE id = ? AND arriving = 0').get(id);
  if (exact) return exact;
  if (id === '') return 'missing';
  const [first, second] = db
    .prepare<[string, string], CaptureRow>(
      'SELECT * FROM capture WHERE substr(id, 1, length(?)) = ? AND arriving = 0 LIMIT 2',
    )
    .all(id, id);
  return second ? 'ambiguous' : (first ?? 'missing');
}

export const findRowByKey = (db: Database, key: number): CaptureRow | undefined =>
  db.prepare<[number], CaptureRow>('SELECT * FROM capture WHERE key = ?').get(key);

export const allRows = (db: Database): CaptureRow[] =>
  db
    .prepare<[], CaptureRow>(
      'SELECT * FROM capture WHERE arriving = 0 ORDER BY coalesce(started_at, added_at) DESC, key DESC',
    )
    .all();

/** The status of each capture, without the rest of it: read again and again while one is recorded. */
export const allStatuses = (db: Database): Pick<CaptureRow, 'id' | 'status'>[] =>
  db
    .prepare<[], Pick<CaptureRow, 'id' | 'status'>>('SELECT id, status FROM capture WHERE arriving = 0 ORDER BY key')
    .all();

export function toSummary(db: Database, row: CaptureRow): CaptureSummary {
  return {
    id: row.id,
    startedAt: row.started_at ?? row.added_at,
    ...(row.started_at === null && { startUnknown: true }),
    ...(row.burner_id !== null && { burnerId: row.burner_id }),
    ...(row.burner !== null && { burner: JSON.parse(row.burner) as BurnerFacts }),
    ...(row.technician !== null && { technician: row.technician }),
    status: row.status,
    ...(row.practice === 1 && { practice: true }),
    ...(row.recorded_here === 1 && { recordedHere: true }),
    lines: row.lines,
    readings: row.readings,
    trials: validTrials(trialsOf(db, row.key)).length,
    durationS: row.duration_s,
    units: unitsOf(db, row.key),
  };
}

/** The unit in which each role's readings are given: that of its first channel. */
export function unitsOf(db: Database, key: number): CaptureSummary['units'] {
  const units: CaptureSummary['units'] = {};
  for (const channel of channelsOf(db, key)) units[channel.role] ??= channel.unit;
  return units;
}

export interface ChannelRow {
  key: number;
  role: Role;
  unit: string;
}

export const channelsOf = (db: Database, key: number): ChannelRow[] =>
  db.prepare<[number], ChannelRow>('SELECT key, role, unit FROM channel WHERE capture = ? ORDER BY key').all(key);

export const setupOf = (row: CaptureRow): Setup => JSON.parse(row.setup) as Setup;

export const marksOf = (db: Database, key: number): Mark[] =>
  db
    .prepare<[number], Mark>(
      'SELECT elapsed_s AS elapsedS, kind, text FROM mark WHERE capture = ? ORDER BY elapsed_s, key',
    )
    .all(key);

export interface NoteRow {
  at: string;
  by?: string;
  text: string;
}

export const notesOf = (db: Database, key: number): NoteRow[] =>
  db
    .prepare<[number], { at: string; by: string | null; text: string }>(
      'SELECT at, by, text FROM note WHERE capture = ? ORDER BY key',
    )
    .all(key)
    .map(({ at, by, text }) => ({ at, ...(by !== null && { by }), text }));

interface MeterRow {
  port: string;
  profile: string;
  description: string | null;
  reads: string | null;
}

export const metersOf = (db: Database, key: number): MeterFacts[] =>
  db
    .prepare<[number], MeterRow>('SELECT port, profile, description, reads FROM meter WHERE capture = ? ORDER BY key')
    .all(key)
    .map(({ port, profile, description, reads }) => ({
      port,
      profile,
      ...(description !== null && { description }),
      ...(reads !== null && { reads: JSON.parse(reads) as Record<string, unknown> }),
    }));
