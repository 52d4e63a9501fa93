import Database from 'better-sqlite3';
import { onTestFinished } from 'vitest';

/** Makes SQLite refuse to prepare every statement that contains this text (SQLITE_BUSY), until it is stopped or the test is over. */
export function refuseStatements(part: string): { stop(): void } {
  const { prepare } = Database.prototype;
  let isRefusing = true;
  Database.prototype.prepare = function (this: Database.Database, sql: string) {
    if (isRefusing && sql.replaceAll(/\s+/gu, ' ').includes(part))
      throw new Database.SqliteError('database is locked', 'SQLITE_BUSY');
    return prepare.call(this, sql);
  } as typeof prepare;
  const stop = () => {
    isRefusing = false;
    Database.prototype.prepare = prepare;
  };
  onTestFinished(stop);
  return { stop };
}
