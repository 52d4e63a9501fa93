import Database from 'better-sqlite3';
import { expect, it } from 'vitest';
import { migrate } from '../../../../electron/host/store/migrate.ts';
import { migrations } from '../../../../electron/host/store/migrations/all.ts';
import { openStore } from '../../../../electron/host/store/open.ts';
import { findExactRow } from '../../../../electron/host/store/read/capture-rows.ts';
import { readCapture } from '../../../../electron/host/store/read/read-capture.ts';
import { storeFile } from '../../../../electron/host/store/store-file.ts';
import { addTrial } from '../../../../electron/host/store/trials.ts';
import { testFolder } from '../../../helpers/test-folder.ts';
import { valueOf } from '../../test-host.ts';
import { frozenSql, frozenStore, rowsOf } from './frozen-store.ts';

const step = migrations.findIndex(({ name }) => name === '006-trial-record');
const added = {
  time_to_prove_from_spark_s: null,
  known_by: null,
  status: null,
  corrects: null,
  reason: null,
  purge_s: null,
  purge_by: null,
  pressure_before: null,
  pressure_after: null,
  note: null,
};

it('a store of version 5 comes to version 6 with every row as it was, and nothing made up about its trials', () => {
  const db = frozenStore(5);
  expect(db.pragma('user_version', { simple: true })).toBe(step);
  const before = rowsOf(db);
  expect(before['trial']).toHaveLength(5);

  migrate(db, step + 1);
  expect(db.pragma('user_version', { simple: true })).toBe(step + 1);
  expect(rowsOf(db)).toEqual({ ...before, trial: before['trial']!.map((row) => ({ ...row, ...added })) });
  expect(db.pragma('integrity_check', { simple: true })).toBe('ok');
  expect(db.pragma('foreign_key_check')).toEqual([]);
  expect(db.prepare("SELECT 1 FROM sqlite_schema WHERE name = 'trial_by_capture'").get()).toBeDefined();
});

it('one that is opened gives its trials as they were, and takes one whose spark nobody saw', () => {
  const folder = testFolder();
  const old = new Database(storeFile(folder));
  old.exec(frozenSql(5));
  old.close();
  const { db, close } = valueOf(openStore(folder));
  const row = findExactRow(db, 'visit-1')!;
  // As they stand in the frozen store.
  const trials = [
    { pressure: 600, unit: 'Pa', sparkDelayS: 0, lit: true },
    { pressure: 380, unit: 'Pa', sparkDelayS: 3, lit: false },
  ] as const;
  expect(readCapture(db, row).trials).toEqual(trials);
  addTrial(db, row.key, { pressure: 500, unit: 'Pa', lit: true });
  expect(readCapture(db, row).trials).toEqual([...trials, { pressure: 500, unit: 'Pa', lit: true }]);
  close();
});
