import Database from 'better-sqlite3';
import { expect, it } from 'vitest';
import { migrate } from '../../../../electron/host/store/migrate.ts';
import { migrations } from '../../../../electron/host/store/migrations/all.ts';
import { openStore } from '../../../../electron/host/store/open.ts';
import { findExactRow } from '../../../../electron/host/store/read/capture-rows.ts';
import { allCaptures } from '../../../../electron/host/store/read/list-captures.ts';
import { readCapture } from '../../../../electron/host/store/read/read-capture.ts';
import { storeFile } from '../../../../electron/host/store/store-file.ts';
import { testFolder } from '../../../helpers/test-folder.ts';
import { valueOf } from '../../test-host.ts';
import { frozenSql, frozenStore, rowsOf } from './frozen-store.ts';

const step = migrations.findIndex(({ name }) => name === '005-practice');

it('a store of version 4 comes to version 5 with every row as it was, and its practice capture marked', () => {
  const db = frozenStore(4);
  expect(db.pragma('user_version', { simple: true })).toBe(step);
  const before = rowsOf(db);
  expect(before['capture']).toHaveLength(2);
  expect(before['line']).toHaveLength(18);

  migrate(db, step + 1);
  expect(db.pragma('user_version', { simple: true })).toBe(step + 1);
  // In the frozen store the first capture was recorded on the practice bench, the second on serial ports.
  const marked = before['capture']!.map((row) => ({ ...row, practice: row['key'] === 1 ? 1 : 0 }));
  expect(rowsOf(db)).toEqual({ ...before, capture: marked });
  expect(db.pragma('integrity_check', { simple: true })).toBe('ok');
  expect(db.pragma('foreign_key_check')).toEqual([]);
});

it('one that is opened lists and gives out its practice capture as practice, and the other as it was', () => {
  const folder = testFolder();
  const old = new Database(storeFile(folder));
  old.exec(frozenSql(4));
  old.close();
  const { db, close } = valueOf(openStore(folder));
  const captures = allCaptures(db);
  expect(captures.map(({ burner, practice }) => [burner?.name, practice])).toEqual([
    ['Boiler "2"', undefined],
    ['Invented burner', true],
  ]);
  expect(captures.map(({ id }) => readCapture(db, findExactRow(db, id)!).practice)).toEqual([undefined, true]);
  close();
});
