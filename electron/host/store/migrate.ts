import type { Database } from 'better-sqlite3';
import { migrations } from './migrations/all.ts';

/** Identifies a file as a store of Pilot Bench (SQLite `application_id`): "PBst". */
export const applicationId = 0x50_42_73_74;

export const storeVersion = (db: Database): number => db.pragma('user_version', { simple: true }) as number;

/**
 * Migrates the store to version `to`, all steps in one transaction: a store is never left half way.
 * Does nothing when it is at that version already; two processes may do it at once, the second waits and finds it done.
 */
export function migrate(db: Database, to = migrations.length): void {
  if (storeVersion(db) >= to) return;
  const run = db.transaction(() => {
    for (let version = storeVersion(db); version < to; version += 1) {
      const migration = migrations[version];
      if (!migration) throw new Error(`no migration from version ${version}`);
      db.exec(migration.sql);
      db.pragma(`user_version = ${version + 1}`);
    }
    db.pragma(`application_id = ${applicationId}`);
  });
  run.immediate();
}
