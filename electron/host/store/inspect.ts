import { existsSync, statSync } from 'node:fs';
import Database from 'better-sqlite3';
import type { Fault } from '../../../shared/model/faults.ts';
import { fault } from '../../../shared/model/faults.ts';
import { applicationId, storeVersion } from './migrate.ts';
import { migrations } from './migrations/all.ts';

/**
 * Checks an existing file, without writing to it: `store-damaged` when it is no intact store, `store-newer`, or undefined when it can be
 * opened. A database without any table is what a first start leaves that was killed or found the disk full: a new store.
 * Throws what SQLite throws.
 * @param isChecked  whether its pages need no check, which reads the whole file
 */
export function inspectStore(file: string, isChecked = false): Fault | undefined {
  if (!existsSync(file) || statSync(file).size === 0) return undefined;
  try {
    return inspect(file, true, isChecked);
  } catch (error) {
    if (!isUnfinished(error)) throw error;
    // A start was killed in a transaction: SQLite undoes that from its journal, and must write for it.
    return inspect(file, false, isChecked);
  }
}

const isUnfinished = (error: unknown): boolean =>
  error instanceof Database.SqliteError && /^SQLITE_READONLY_(?:ROLLBACK|RECOVERY)$/u.test(error.code);

function inspect(file: string, readonly: boolean, isChecked: boolean): Fault | undefined {
  const db = new Database(file, { readonly, fileMustExist: true, timeout: 5000 });
  try {
    // One transaction: another first start may create the tables meanwhile.
    return db.transaction(() => findProblem(db, file, isChecked))();
  } finally {
    db.close();
  }
}

function findProblem(db: Database.Database, file: string, isChecked: boolean): Fault | undefined {
  const tables = db.prepare<[], number>('SELECT count(*) FROM sqlite_schema').pluck().get();
  const id = db.pragma('application_id', { simple: true });
  const found = storeVersion(db);
  if (tables === 0 && id === 0 && found === 0) return undefined;
  if (id !== applicationId) return fault('store-damaged', { file, reason: 'it is not a store of Pilot Bench' });
  if (found > migrations.length) return fault('store-newer', { file, found, known: migrations.length });
  if (isChecked) return undefined;
  const check = db.pragma('quick_check(1)', { simple: true });
  return check === 'ok' ? undefined : fault('store-damaged', { file, reason: String(check) });
}
