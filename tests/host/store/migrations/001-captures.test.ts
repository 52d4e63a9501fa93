import { expect, it } from 'vitest';
import { migrate } from '../../../../electron/host/store/migrate.ts';
import { frozenSql, frozenStore, rowsOf, schemaOf, versionOf } from './frozen-store.ts';

it('migration 001 makes of an empty database the store of version 1, which accepts the frozen data', () => {
  const db = frozenStore(0);
  migrate(db, 1);
  const frozen = frozenStore(1);
  expect(schemaOf(db)).toEqual(schemaOf(frozen));
  expect(versionOf(db)).toBe(1);
  // "PBst" in ASCII: 50 42 73 74.
  expect(db.pragma('application_id', { simple: true })).toBe(0x50_42_73_74);
  const [, ...inserts] = frozenSql(1).split(/^(?=INSERT INTO )/mu);
  expect(inserts).toHaveLength(10);
  db.exec(inserts.join(''));
  expect(rowsOf(db)).toEqual(rowsOf(frozen));
});

it.each([
  ['an unknown status', "UPDATE capture SET status = 'done' WHERE key = 1", /CHECK constraint failed/u],
  ['a second capture of the same id', "UPDATE capture SET id = 'killed' WHERE key = 1", /UNIQUE constraint failed/u],
  ['a reading with neither value nor flag', 'UPDATE reading SET flag = NULL WHERE capture = 5', /CHECK constraint failed/u], // prettier-ignore
  ['a reading with value and flag', "UPDATE reading SET flag = 'overload' WHERE value = 2.41", /CHECK constraint failed/u], // prettier-ignore
  ['a trial that is neither lit nor not', 'UPDATE trial SET lit = 2', /CHECK constraint failed/u],
  ['a line of no capture', "INSERT INTO line VALUES (99, 1, 0, 'COM3', X'31')", /FOREIGN KEY constraint failed/u],
  ['a text where bytes belong', "INSERT INTO line VALUES (1, 4, 0, 'COM3', '1')", /cannot store TEXT value in BLOB/u],
  ['the same channel twice', "INSERT INTO channel VALUES (9, 1, 'flame_signal', 'V')", /UNIQUE constraint failed/u],
])('the store of version 1 refuses %s', (_what, sql, error) => {
  const db = frozenStore(0);
  migrate(db, 1);
  db.exec(
    frozenSql(1)
      .split(/^(?=INSERT INTO )/mu)
      .slice(1)
      .join(''),
  );
  expect(() => db.exec(sql)).toThrow(error);
});
