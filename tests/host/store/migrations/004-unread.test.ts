import { expect, it } from 'vitest';
import { migrate } from '../../../../electron/host/store/migrate.ts';
import { capturesWithUnread, unreadRowsOf } from '../../../../electron/host/store/unread.ts';
import { frozenStore, rowsOf, schemaOf, versionOf } from './frozen-store.ts';

it('migration 004 leaves everything of a store of version 3 as it was, and adds an empty table for raw bytes', () => {
  const db = frozenStore(3);
  const [rows, schema] = [rowsOf(db), schemaOf(db)];
  expect(rows['meter']).toHaveLength(4);
  migrate(db, 4);
  expect(versionOf(db)).toBe(4);
  expect(rowsOf(db)).toEqual({ ...rows, unread: [] });
  const { unread, ...others } = schemaOf(db);
  expect(others).toEqual(schema);
  const column = (name: string, type: string, notnull: 0 | 1 = 1) => ({ name, type, notnull, dflt_value: null, pk: 0 });
  expect(unread).toEqual({
    strict: 1,
    withoutRowid: 0,
    columns: [
      { ...column('key', 'INTEGER', 0), pk: 1 },
      column('capture', 'INTEGER'),
      column('elapsed_s', 'REAL'),
      column('port', 'TEXT'),
      column('bytes', 'BLOB'),
    ],
    foreignKeys: [{ from: 'capture', table: 'capture', to: 'key' }],
    indexes: [{ name: 'unread_by_capture', unique: 0, origin: 'c', columns: ['capture', 'key'] }],
  });
});

it('after migration 004 raw bytes are stored for a capture, in the order of arrival', () => {
  const db = frozenStore(3);
  migrate(db, 4);
  db.exec(`UPDATE capture SET status = 'interrupted' WHERE key = 5;
    INSERT INTO unread (capture, elapsed_s, port, bytes) VALUES (5, 4, 'COM3', X'310A'), (5, 4.5, 'COM3', X'320A')`);
  expect(capturesWithUnread(db)).toEqual([5]);
  expect(unreadRowsOf(db, 5, 10).map(({ elapsedS, port, bytes }) => [elapsedS, port, [...bytes]])).toEqual([
    [4, 'COM3', [0x31, 0x0a]],
    [4.5, 'COM3', [0x32, 0x0a]],
  ]);
});
