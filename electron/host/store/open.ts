import { existsSync, statSync } from 'node:fs';
import Database from 'better-sqlite3';
import type { Fault } from '../../../shared/model/faults.ts';
import { fault } from '../../../shared/model/faults.ts';
import type { Outcome } from '../../../shared/model/outcome.ts';
import { fail, ok } from '../../../shared/model/outcome.ts';
import { createPrivateFile, makePrivateFolder } from '../files/private-folder.ts';
import { applicationId, migrate, storeVersion } from './migrate.ts';
import { migrations } from './migrations/all.ts';
import { storeFile } from './store-file.ts';
import { storeFault } from './store-fault.ts';

const missingFileCodes: ReadonlySet<string | undefined> = new Set(['ENOENT', 'ENOTDIR', 'ELOOP']);

/** An open store. Several processes and threads may have the same one open. */
export interface Store {
  file: string;
  db: Database.Database;
  /** Whether the file was deleted or moved since: then writes go into a file that nobody will find. */
  isGone(): boolean;
  close(): void;
}

/**
 * Opens the store in `folder`, creating both when they are missing, and migrates it.
 * Fails with `store-damaged`, `store-newer` or `store-unavailable`; then the file is not changed.
 */
export function openStore(folder: string): Outcome<Store> {
  const file = storeFile(folder);
  try {
    makePrivateFolder(folder);
    createPrivateFile(file);
  } catch (error) {
    return fail(fault('store-unavailable', { file, reason: reasonOf(error) }));
  }
  try {
    const problem = existsSync(file) && statSync(file).size > 0 ? inspect(file) : undefined;
    if (problem) return fail(problem);
    const db = connect(file);
    const { ino, dev } = statSync(file);
    const isGone = (): boolean => {
      try {
        const now = statSync(file);
        return now.ino !== ino || now.dev !== dev;
      } catch (error) {
        // When the disk fails (EIO, ESTALE, EACCES), SQLite will give the fault.
        return missingFileCodes.has((error as NodeJS.ErrnoException).code);
      }
    };
    return ok({ file, db, isGone, close: () => db.close() });
  } catch (error) {
    const refusal = storeFault(error, file);
    if (refusal) return fail(refusal);
    if (error instanceof Error && 'code' in error)
      return fail(fault('store-unavailable', { file, reason: reasonOf(error) }));
    throw error;
  }
}

const reasonOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));

/** Checks an existing file without writing to it. */
function inspect(file: string): Fault | undefined {
  const db = new Database(file, { readonly: true, fileMustExist: true, timeout: 5000 });
  try {
    const id = db.pragma('application_id', { simple: true });
    if (id !== applicationId) return fault('store-damaged', { file, reason: 'it is not a store of Pilot Bench' });
    const found = storeVersion(db);
    if (found > migrations.length) return fault('store-newer', { file, found, known: migrations.length });
    const check = db.pragma('quick_check(1)', { simple: true });
    if (check !== 'ok') return fault('store-damaged', { file, reason: String(check) });
    return undefined;
  } finally {
    db.close();
  }
}

function connect(file: string): Database.Database {
  const db = new Database(file, { timeout: 5000 });
  try {
    // The promise: a line is here 250 ms after it came, survives a kill of this program from then on, and nothing damages the
    // store. (What SQLite guarantees: its documentation, "Write-Ahead Logging" and "PRAGMA synchronous"; from memory.)
    //
    // WAL: a commit appends to a log beside the store. Readers and a writer do not wait for each other, and what a killed writer
    // left unfinished has no commit record, so the next one to open the store ignores it.
    db.pragma('journal_mode = WAL');
    // NORMAL: a commit is written, not synced: the operating system has it, which outlives this program and whatever kills it.
    // The log is synced before it is copied into the store, and the store before the log is restarted, so a power loss or a
    // crash of the system never damages either. It can cost the commits since the last sync: at most those since the last
    // checkpoint, about a thousand pages or some ten thousand lines, and on most systems the last half minute, after which
    // the system writes by itself. A finished capture is synced (`finishCapture`).
    // FULL would sync at every commit, twenty times a second, and hold up the ports for as long as a slow disk takes each time.
    db.pragma('synchronous = NORMAL');
    db.pragma('foreign_keys = ON');
    migrate(db);
    // From here on this thread also serves the ports: better to retry later than to wait long for another process.
    db.pragma('busy_timeout = 100');
    return db;
  } catch (error) {
    db.close();
    throw error;
  }
}
