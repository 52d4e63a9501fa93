import { expect, it } from 'vitest';
import { migrate } from '../../../../electron/host/store/migrate.ts';
import { frozenStore, rowsOf, schemaOf, versionOf } from './frozen-store.ts';

it('migration 002 leaves everything of a store of version 1 as it was, and every capture visible', () => {
  const db = frozenStore(1);
  const before = rowsOf(db);
  expect(before['capture']).toHaveLength(3);
  migrate(db, 2);
  expect(versionOf(db)).toBe(2);
  expect(schemaOf(db)).toEqual(schemaOf(frozenStore(2)));
  expect(rowsOf(db)).toEqual({
    ...before,
    capture: before['capture']?.map((capture) => ({ ...capture, arriving: 0 })),
  });
  // Without a start, by when it was added: the newest first.
  const visible = 'SELECT id FROM capture WHERE arriving = 0 ORDER BY coalesce(started_at, added_at) DESC';
  expect(db.prepare(visible).pluck().all()).toEqual(['killed', 'csv-import', 'visit-2025']);
  expect(() => db.exec('UPDATE capture SET arriving = 2 WHERE key = 1')).toThrow(/CHECK constraint failed/u);
});
