import { expect, it } from 'vitest';
import { migrate } from '../../../../electron/host/store/migrate.ts';
import { metersOf } from '../../../../electron/host/store/read/capture-rows.ts';
import { frozenStore, rowsOf, schemaOf, versionOf } from './frozen-store.ts';

it('migration 003 leaves everything of a store of version 2 as it was; of its meters the profile is not known', () => {
  const db = frozenStore(2);
  const before = rowsOf(db);
  expect(before['meter']).toHaveLength(3);
  migrate(db, 3);
  expect(versionOf(db)).toBe(3);
  expect(schemaOf(db)).toEqual(schemaOf(frozenStore(3)));
  expect(rowsOf(db)).toEqual({ ...before, meter: before['meter']?.map((meter) => ({ ...meter, reads: null })) });
  expect(metersOf(db, 1)).toEqual([
    { port: '/dev/ttyUSB0', profile: 'Manometer, one number a line', description: 'the blue one' },
    { port: '/dev/ttyUSB1', profile: 'Multimeter, volts, one number a line' },
  ]);
});

it('after migration 003 a port may have been read by two profiles of one name, but each only once', () => {
  const db = frozenStore(2);
  migrate(db, 3);
  const insert = (reads: string) =>
    db.exec(`INSERT INTO meter (capture, port, profile, reads) VALUES (5, 'COM3', 'My gauge', ${reads})`);
  expect(() => insert('NULL')).toThrow(/UNIQUE constraint failed/u);
  insert(`'{"format":"number"}'`);
  insert(`'{"format":"scpi"}'`);
  expect(() => insert(`'{"format":"scpi"}'`)).toThrow(/UNIQUE constraint failed/u);
  expect(metersOf(db, 5).map(({ reads }) => reads)).toEqual([undefined, { format: 'number' }, { format: 'scpi' }]);
});
