import Database from 'better-sqlite3';
import { expect, it } from 'vitest';
import { migrate } from '../../../../electron/host/store/migrate.ts';
import { migrations } from '../../../../electron/host/store/migrations/all.ts';
import { storeFile } from '../../../../electron/host/store/store-file.ts';
import { testFolder } from '../../../helpers/test-folder.ts';
import { neverAborted, openTestHost, valueOf } from '../../test-host.ts';
import { frozenSql, frozenStore, rowsOf } from './frozen-store.ts';

const step = migrations.findIndex(({ name }) => name === '007-recorded-here');

it('a store of version 6 comes to version 7 with every row as it was, and no capture taken for recorded here', () => {
  const db = frozenStore(6);
  expect(db.pragma('user_version', { simple: true })).toBe(step);
  const before = rowsOf(db);
  expect(before['capture']).toHaveLength(2);
  expect(before['trial']).toHaveLength(6);

  migrate(db, step + 1);
  expect(db.pragma('user_version', { simple: true })).toBe(step + 1);
  const unknown = before['capture']!.map((row) => ({ ...row, recorded_here: 0 }));
  expect(rowsOf(db)).toEqual({ ...before, capture: unknown });
  expect(db.pragma('integrity_check', { simple: true })).toBe('ok');
  expect(db.pragma('foreign_key_check')).toEqual([]);
});

it('one that is opened does not resume its interrupted capture, of which nobody knows where it came from', async () => {
  const folder = testFolder();
  const old = new Database(storeFile(folder));
  old.exec(frozenSql(6));
  old.close();
  const { host } = await openTestHost(folder);
  const captures = valueOf(await host.handlers['captures.list']({}, neverAborted));
  const interrupted = captures.find(({ status }) => status === 'interrupted')!;
  expect(interrupted.recordedHere).toBeUndefined();
  expect(await host.handlers['captures.continue']({ capture: interrupted.id }, neverAborted)).toMatchObject({
    ok: false,
    fault: { code: 'capture-imported' },
  });
});
