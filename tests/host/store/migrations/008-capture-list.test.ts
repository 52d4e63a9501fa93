import Database from 'better-sqlite3';
import { expect, it } from 'vitest';
import { migrate } from '../../../../electron/host/store/migrate.ts';
import { migrations } from '../../../../electron/host/store/migrations/all.ts';
import { openStore } from '../../../../electron/host/store/open.ts';
import { listCaptures } from '../../../../electron/host/store/read/list-captures.ts';
import { storeFile } from '../../../../electron/host/store/store-file.ts';
import { testFolder } from '../../../helpers/test-folder.ts';
import { valueOf } from '../../test-host.ts';
import { frozenSql, frozenStore, rowsOf } from './frozen-store.ts';

const step = migrations.findIndex(({ name }) => name === '008-capture-list');

/** Seconds since 1970 of the starts in the frozen store, worked by JavaScript's own calendar. */
const listedAt: Record<number, number> = {
  1: Date.UTC(2026, 10, 27, 2, 7, 0, 626) / 1000,
  2: Date.UTC(2026, 10, 27, 9) / 1000, // it does not say when it began: when it was added
  3: Date.UTC(2026, 2, 1, 15, 30) / 1000, // 01:30 on March 2, ten hours east
  4: Date.UTC(2026, 2, 1, 17) / 1000, // 12:00 on March 1, five hours west
  5: Date.UTC(2026, 2, 3, 10) / 1000,
};

it('a store of version 7 comes to version 8 with every row as it was, and each capture with its time', () => {
  const db = frozenStore(7);
  expect(db.pragma('user_version', { simple: true })).toBe(step);
  const before = rowsOf(db);
  expect(before['capture']).toHaveLength(5);

  migrate(db, step + 1);
  expect(db.pragma('user_version', { simple: true })).toBe(step + 1);
  const after = rowsOf(db);
  const times = after['capture']!.map((row) => [row['key'], Number(row['listed_at'])] as const);
  for (const [key, time] of times) expect(time).toBeCloseTo(listedAt[Number(key)]!, 3);
  const withoutTime = after['capture']!.map(({ listed_at: _time, ...row }) => row);
  expect({
    ...Object.fromEntries(Object.keys(before).map((table) => [table, after[table]])),
    capture: withoutTime,
  }).toEqual(before);
  expect(db.pragma('integrity_check', { simple: true })).toBe('ok');
  expect(db.pragma('foreign_key_check')).toEqual([]);
});

it.each([
  ['', ['visit-1', 'a92cd697-2785-4de8-bc53-976e3bcf45a6', 'visit-west', 'visit-east']],
  ['boiler', ['a92cd697-2785-4de8-bc53-976e3bcf45a6']],
  ['lacker', ['visit-west', 'visit-east']], // without its diaeresis
  ['oven 2', ['visit-west', 'visit-east']], // as it was called at the visits
  ['oven 3', ['visit-west', 'visit-east']], // as it is called now
  ['s\u00f8nder', ['visit-east']],
  ['50% "B"', ['visit-east']], // in a note beside the capture
  ['gust', ['visit-west']], // in a mark
  ['2026-03-02', ['visit-east']], // the day at the burner
  ['arriving', []], // an import that never ended
])('after migration 008 a search for "%s" finds in an old store %j', (search, ids) => {
  const folder = testFolder();
  const old = new Database(storeFile(folder));
  old.exec(frozenSql(7));
  old.close();
  const { db, close } = valueOf(openStore(folder));
  const { total, captures } = listCaptures(db, { search, from: 0, count: 10 });
  expect(captures.map(({ id }) => id)).toEqual(ids);
  expect(total).toBe(ids.length);
  close();
});

it('an old store gives the summaries of its captures as they were: three trials, one of them discarded, and their units', () => {
  const db = frozenStore(7);
  migrate(db);
  const { captures } = listCaptures(db, { search: 'visit-east', from: 0, count: 1 });
  expect(captures).toEqual([
    {
      id: 'visit-east',
      startedAt: '2026-03-02T01:30:00.000+10:00',
      burnerId: 'b-2',
      burner: { site: 'L\u00e4cker bakery', name: 'Oven 2', serialNumber: 'SN-4711' },
      technician: 'M. S\u00f8nderg\u00e5rd',
      status: 'complete',
      recordedHere: true,
      lines: 0,
      readings: 0,
      trials: 2,
      durationS: 61.5,
      units: { flame_signal: 'uA', pilot_pressure: 'mbar' },
    },
  ]);
});
