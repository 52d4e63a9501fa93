import { statSync } from 'node:fs';
import Database from 'better-sqlite3';
import { fault } from '../../../shared/model/faults.ts';
import type { Outcome } from '../../../shared/model/outcome.ts';
import { fail, ok } from '../../../shared/model/outcome.ts';
import { createPrivateFile, makePrivateFolder } from '../files/private-folder.ts';
import { reasonOf } from '../files/write-whole.ts';
import { inspectStore } from './inspect.ts';
import { migrate } from './migrate.ts';
import { storeFile } from './store-file.ts';
import { startFault } from './store-fault.ts';

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
 * @param isChecked  another process has checked every page of the file and has it open: only what kind of file it is is checked
 */
export function openStore(folder: string, { isChecked = false } = {}): Outcome<Store> {
  const file = storeFile(folder);
  try {
    makePrivateFolder(folder);
    createPrivateFile(file);
  } catch (error) {
    return fail(fault('store-unavailable', { file, reason: reasonOf(error) }));
  }
  try {
    const connected = connectPatiently(file, isChecked);
    if (!connected.ok) return connected;
    const db = connected.value;
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
    const refusal = startFault(error, file);
    if (refusal) return fail(refusal);
    if (error instanceof Error && 'code' in error)
      return fail(fault('store-unavailable', { file, reason: reasonOf(error) }));
    throw error;
  }
}

// Several first starts at once wait for each other this long; each takes some 20 ms.
const patienceMs = 5000;
const pauseMs = 20;

/**
 * Connects to the store after a look at what is there. While another process makes the store, SQLite refuses for moments, some of them
 * without waiting as `timeout` asks for: to change the journal mode, to recover a log, or as a file comes and goes.
 */
function connectPatiently(file: string, isChecked: boolean): Outcome<Database.Database> {
  for (const startedMs = performance.now(); ;) {
    try {
      const problem = inspectStore(file, isChecked);
      return problem ? fail(problem) : ok(connect(file));
    } catch (error) {
      if (!isMomentary(error) || performance.now() - startedMs > patienceMs) throw error;
      Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, pauseMs);
    }
  }
}

const isMomentary = (error: unknown): boolean =>
  error instanceof Database.SqliteError &&
  /^SQLITE_(?:BUSY|LOCKED|PROTOCOL|READONLY_(?:CANTINIT|CANTLOCK|RECOVERY|ROLLBACK))/u.test(error.code);

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
