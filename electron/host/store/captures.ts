import type { Database } from 'better-sqlite3';
import type { CaptureSummary } from '../../../shared/contract/api.ts';
import type { BurnerFacts, Mark, MeterFacts } from '../../../shared/model/capture.ts';
import { isPractice } from '../../../shared/model/practice-mark.ts';
import type { Setup } from '../../../shared/model/setup.ts';
import type { Owner } from './owner.ts';

export interface NewCapture {
  id: string;
  startedAt: string;
  technician?: string | undefined;
  burner?: { id: string; facts: BurnerFacts } | undefined;
  setup: Setup;
}

/** Inserts a capture that `owner` records from now on; gives its key. `wallMs` is epoch milliseconds. */
export function insertRecording(db: Database, capture: NewCapture, owner: Owner, wallMs: number): number {
  const { lastInsertRowid } = db
    .prepare(
      `INSERT INTO capture (id, started_at, added_at, status, technician, burner_id, burner, setup,
         owner_pid, owner_process, owner_host, heartbeat_ms, recorded_here)
       VALUES (?, ?, ?, 'recording', ?, ?, ?, ?, ?, ?, ?, ?, 1)`,
    )
    .run(
      capture.id,
      capture.startedAt,
      capture.startedAt,
      capture.technician ?? null,
      capture.burner?.id ?? null,
      capture.burner ? JSON.stringify(capture.burner.facts) : null,
      JSON.stringify(capture.setup),
      owner.pid,
      owner.process,
      owner.host,
      wallMs,
    );
  return Number(lastInsertRowid);
}

/** `owner` resumes an interrupted capture; false when it is not interrupted anymore. */
export const takeOwnership = (db: Database, key: number, owner: Owner, wallMs: number): boolean =>
  db
    .prepare(
      `UPDATE capture SET status = 'recording', owner_pid = ?, owner_process = ?, owner_host = ?, heartbeat_ms = ?
       WHERE key = ? AND status = 'interrupted'`,
    )
    .run(owner.pid, owner.process, owner.host, wallMs, key).changes === 1;

/** Shows that `owner` is alive. A capture that another process called interrupted meanwhile is taken back by the next batch. */
export const heartbeat = (db: Database, key: number, owner: Owner, wallMs: number): void => {
  db.prepare('UPDATE capture SET heartbeat_ms = ? WHERE key = ? AND owner_host = ?').run(wallMs, key, owner.host);
};

/** Ends a capture that belongs to `owner` or is interrupted; false when it belongs to another, or is complete already. */
export const endCapture = (
  db: Database,
  key: number,
  owner: Owner,
  status: Exclude<CaptureSummary['status'], 'recording'>,
): boolean =>
  db
    .prepare(
      `UPDATE capture SET status = ?, owner_pid = NULL, owner_process = NULL, owner_host = NULL, heartbeat_ms = NULL
       WHERE key = ? AND (owner_host = ? OR status = 'interrupted')`,
    )
    .run(status, key, owner.host).changes === 1;

export const setSetup = (db: Database, key: number, setup: Setup): void => {
  db.prepare('UPDATE capture SET setup = ? WHERE key = ?').run(JSON.stringify(setup), key);
};

export const setBurner = (db: Database, key: number, id: string, facts: BurnerFacts): void => {
  db.prepare('UPDATE capture SET burner_id = ?, burner = ? WHERE key = ?').run(id, JSON.stringify(facts), key);
};

/** Marks the capture as practice. There is no way back. */
export const markPractice = (db: Database, key: number): void => {
  db.prepare('UPDATE capture SET practice = 1 WHERE key = ?').run(key);
};

/**
 * Adds a meter to a capture: once for each port and profile, and again when its profile has been changed. A meter of the practice bench
 * marks the capture.
 */
export const addMeter = (db: Database, key: number, meter: MeterFacts): void => {
  const { port, profile, description, reads } = meter;
  db.prepare(
    'INSERT INTO meter (capture, port, profile, description, reads) VALUES (?, ?, ?, ?, ?) ON CONFLICT DO NOTHING',
  ).run(key, port, profile, description ?? null, reads ? JSON.stringify(reads) : null);
  if (isPractice({ meters: [meter] })) markPractice(db, key);
};

/** Adds a mark to a capture that is not being recorded: the rest of its record stays as it is. */
export const addMark = (db: Database, key: number, { elapsedS, kind, text }: Mark): void => {
  db.prepare('INSERT INTO mark (capture, elapsed_s, kind, text) VALUES (?, ?, ?, ?)').run(key, elapsedS, kind, text);
};

/** Indexes the words of a capture anew, as a change of its status does: one that is not complete is not indexed for each of its marks. */
export const indexWords = (db: Database, key: number): void => {
  db.prepare('UPDATE capture SET status = status WHERE key = ?').run(key);
};

export const addNote = (
  db: Database,
  key: number,
  note: { at: string; by?: string | undefined; text: string },
): void => {
  db.prepare('INSERT INTO note (capture, at, by, text) VALUES (?, ?, ?, ?)').run(
    key,
    note.at,
    note.by ?? null,
    note.text,
  );
};
