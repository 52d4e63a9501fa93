import type { Database } from 'better-sqlite3';
import { Mapping } from '../../../shared/model/logger/mapping.ts';

/** The mapping that is remembered for a heading, and when it was used last, ISO 8601; undefined where it is not usable any more. */
export function findMapping(db: Database, heading: string): { mapping: Mapping; usedAt: string } | undefined {
  const row = db
    .prepare<[string], { json: string; usedAt: string }>(
      'SELECT json, used_at AS usedAt FROM mapping WHERE heading = ?',
    )
    .get(heading);
  const mapping = row && Mapping.safeParse(JSON.parse(row.json));
  return mapping?.success ? { mapping: mapping.data, usedAt: row!.usedAt } : undefined;
}

/** Remembers a mapping in place of the one before. */
export const putMapping = (db: Database, heading: string, mapping: Mapping, usedAt: string): void => {
  db.prepare(
    `INSERT INTO mapping (heading, json, used_at) VALUES (?, ?, ?)
     ON CONFLICT (heading) DO UPDATE SET json = excluded.json, used_at = excluded.used_at`,
  ).run(heading, JSON.stringify(mapping), usedAt);
};
