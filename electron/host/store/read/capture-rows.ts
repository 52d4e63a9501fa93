import type { Database } from 'better-sqlite3';
import type { CaptureSummary } from '../../../../shared/contract/api.ts';
import type { Mark, MeterFacts } from '../../../../shared/model/capture.ts';
import type { Role } from '../../../../shared/model/reading.ts';
import type { Setup } from '../../../../shared/model/setup.ts';

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

/** The capture with exactly this id. */
export const findExactRow = (db: Database, id: string): CaptureRow | undefined =>
  db.prepare<[string], CaptureRow>('SELECT * FROM capture WHERE id = ? AND arriving = 0').get(id);

/** The capture with this id, or the only one whose id begins so. */
export function findRow(db: Database, id: string): CaptureRow | 'missing' | 'ambiguous' {
  const exact = findExactRow(db, id);
  if (exact) return exact;
  if (id === '') return 'missing';
  // Those from `id` to the greatest text that begins so, by the index: the last character of Unicode belongs to no id.
  const [first, second] = db
    .prepare<[string, string], CaptureRow>('SELECT * FROM capture WHERE id >= ? AND id < ? AND arriving = 0 LIMIT 2')
    .all(id, `${id}\u{10FFFF}`);
  return second ? 'ambiguous' : (first ?? 'missing');
}

export const findRowByKey = (db: Database, key: number): CaptureRow | undefined =>
  db.prepare<[number], CaptureRow>('SELECT * FROM capture WHERE key = ?').get(key);

/** The newest recording made into this store. */
export const newestRecording = (db: Database): CaptureRow | undefined =>
  db
    .prepare<[], CaptureRow>(
      'SELECT * FROM capture WHERE arriving = 0 AND recorded_here = 1 ORDER BY listed_at DESC, key DESC LIMIT 1',
    )
    .get();

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
