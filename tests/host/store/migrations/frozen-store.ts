import { readFileSync } from 'node:fs';
import Database from 'better-sqlite3';
import { onTestFinished } from 'vitest';

/** A version of the store of which there is a frozen one. */
type Version = 1 | 2 | 3 | 4 | 5 | 6 | 7 | 8;

/** The frozen SQL of a store of this version, with its data. */
export const frozenSql = (version: Version): string =>
  readFileSync(new URL(`version-${version}.sql`, import.meta.url), 'utf8');

/** A store in memory as this version of the schema left it; 0: an empty database. Closed after the test. */
export function frozenStore(version: 0 | Version): Database.Database {
  const db = new Database(':memory:');
  onTestFinished(() => void db.close());
  if (version !== 0) db.exec(frozenSql(version));
  db.pragma('foreign_keys = ON');
  return db;
}

type Row = Record<string, unknown>;

const tablesOf = (db: Database.Database): { name: string; ncol: number; strict: number; wr: number }[] =>
  db
    .prepare<[], { name: string; ncol: number; strict: number; wr: number }>(
      `SELECT name, ncol, strict, wr FROM pragma_table_list WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name`,
    )
    .all();

/** Every row of every table, by table, in the order of the keys. */
export const rowsOf = (db: Database.Database): Record<string, Row[]> =>
  Object.fromEntries(
    tablesOf(db).map(({ name, ncol }) => [
      name,
      db.prepare<[], Row>(`SELECT * FROM ${name} ORDER BY 1, ${Math.min(ncol, 2)}`).all(),
    ]),
  );

/** The schema as SQLite itself describes it: columns, foreign keys and indexes of every table. CHECK constraints are not listed. */
export const schemaOf = (db: Database.Database): Record<string, unknown> =>
  Object.fromEntries(
    tablesOf(db).map(({ name, strict, wr }) => [
      name,
      {
        strict,
        withoutRowid: wr,
        columns: db.prepare('SELECT name, type, "notnull", dflt_value, pk FROM pragma_table_info(?)').all(name),
        foreignKeys: db
          .prepare('SELECT "from", "table", "to" FROM pragma_foreign_key_list(?) ORDER BY "from"')
          .all(name),
        indexes: db
          .prepare<[string], { name: string; unique: number; origin: string }>(
            'SELECT name, "unique", origin FROM pragma_index_list(?) ORDER BY name',
          )
          .all(name)
          .map((index) => ({
            ...index,
            // -2: an expression.
            columns: db.prepare('SELECT coalesce(name, cid) FROM pragma_index_info(?)').pluck().all(index.name),
          })),
      },
    ]),
  );

export const versionOf = (db: Database.Database): unknown => db.pragma('user_version', { simple: true });
