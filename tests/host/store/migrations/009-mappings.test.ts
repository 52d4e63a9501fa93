import Database from 'better-sqlite3';
import { expect, it } from 'vitest';
import { findMapping, putMapping } from '../../../../electron/host/store/mappings.ts';
import { migrate } from '../../../../electron/host/store/migrate.ts';
import { migrations } from '../../../../electron/host/store/migrations/all.ts';
import { openStore } from '../../../../electron/host/store/open.ts';
import { storeFile } from '../../../../electron/host/store/store-file.ts';
import { testFolder } from '../../../helpers/test-folder.ts';
import { valueOf } from '../../test-host.ts';
import { frozenSql, frozenStore, rowsOf } from './frozen-store.ts';

const step = migrations.findIndex(({ name }) => name === '009-mappings');

it('a store of version 8 comes to version 9 with every row as it was', () => {
  const db = frozenStore(8);
  expect(db.pragma('user_version', { simple: true })).toBe(step);
  const before = rowsOf(db);
  expect(before['capture']).toHaveLength(5);
  migrate(db, step + 1);
  expect(db.pragma('user_version', { simple: true })).toBe(step + 1);
  expect(rowsOf(db)).toEqual({ ...before, mapping: [] });
  expect(db.pragma('integrity_check', { simple: true })).toBe('ok');
});

it('an old store remembers mappings by their heading, the newest of each; one that it does not know is none', () => {
  const folder = testFolder();
  const old = new Database(storeFile(folder));
  old.exec(frozenSql(8));
  old.close();
  const { db, close } = valueOf(openStore(folder));
  expect(findMapping(db, '[["Zeit"]]')).toBeUndefined();
  putMapping(db, '[["Zeit"]]', { decimal: '.' }, '2026-11-27T10:00:00Z');
  putMapping(db, '[["Zeit"]]', { decimal: ',' }, '2026-11-28T10:00:00Z');
  putMapping(db, '[["Time"]]', { separator: '\t' }, '2026-11-26T10:00:00Z');
  expect(findMapping(db, '[["Zeit"]]')).toEqual({ mapping: { decimal: ',' }, usedAt: '2026-11-28T10:00:00Z' });
  // One of a later version that says what this one does not know is as good as none.
  db.exec(`UPDATE mapping SET json = '{"decimal":"apostrophe"}' WHERE heading = '[["Time"]]'`);
  expect(findMapping(db, '[["Time"]]')).toBeUndefined();
  close();
});
