import type Database from 'better-sqlite3';

export type Rows = Record<string, Record<string, unknown>[]>;

/** All rows of all tables. */
export function rowsOf(db: Database.Database): Rows {
  const tables = db
    .prepare<[], string>(
      "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name",
    )
    .pluck()
    .all();
  return Object.fromEntries(
    tables.map((table) => [table, db.prepare(`SELECT * FROM ${table}`).all() as Record<string, unknown>[]]),
  );
}
