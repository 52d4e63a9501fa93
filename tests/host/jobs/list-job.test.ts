import { renameSync, rmSync } from 'node:fs';
import { expect, it } from 'vitest';
import { createListening, type RunningProcess } from '../../../electron/host/jobs/running-process.ts';
import { storeFile } from '../../../electron/host/store/store-file.ts';
import { importCapture } from '../../../electron/host/store/import/import-capture.ts';
import { openStore } from '../../../electron/host/store/open.ts';
import { ok } from '../../../shared/model/outcome.ts';
import { testFolder } from '../../helpers/test-folder.ts';
import { neverAborted, openTestHost, valueOf } from '../test-host.ts';

const empty = { meters: [], setup: {}, readings: [], lines: [], marks: [], trials: [], notes: [] };

it('pages of the list come from a process that keeps its connection, and follow every change in the store', async () => {
  const folder = testFolder();
  const { host, record } = await openTestHost(folder);
  const ids = async (search: string) =>
    valueOf(await host.handlers['captures.page']({ search, from: 0, count: 50 }, neverAborted)).captures.map(
      ({ id }) => id,
    );
  expect(await ids('')).toEqual([]);
  const capture = await record();
  expect(await ids('')).toEqual([capture]);
  valueOf(await host.handlers['captures.note']({ capture, text: 'Elektrode ersetzt' }, neverAborted));
  expect([await ids('ersetzt'), await ids('none')]).toEqual([[capture], []]);
});

it('a page is never behind long jobs: it comes while others that never end are waiting for each other', async () => {
  const startProcess = (): RunningProcess => {
    const listening = createListening();
    return {
      send: ({ job }) => {
        if (job.kind === 'list') listening.message({ answer: ok({ total: 7, captures: [] }) });
      },
      listen: listening.listen,
      hold: () => {},
      kill: async () => {},
    };
  };
  const { host } = await openTestHost(testFolder(), { startProcess });
  const exports = [1, 2, 3].map(() => host.handlers['files.export']({ capture: 'c', format: 'csv' }, neverAborted));
  const page = await host.handlers['captures.page']({ search: '', from: 0, count: 1 }, neverAborted);
  expect(valueOf(page).total).toBe(7);
  await host.close();
  expect(await Promise.all(exports)).toMatchObject([{ ok: false }, { ok: false }, { ok: false }]);
});

it('after the store was moved away and another put in its place, the other one is read', async () => {
  const [folder, elsewhere] = [testFolder(), testFolder()];
  const { host, record } = await openTestHost(folder);
  const page = () => host.handlers['captures.page']({ search: '', from: 0, count: 9 }, neverAborted);
  await record();
  expect(valueOf(await page()).total).toBe(1);
  const other = valueOf(openStore(elsewhere));
  for (const id of ['x', 'y', 'z'])
    importCapture(other.db, { ...empty, id }, undefined, '2026-01-01T00:00:00Z', () => {});
  other.close();
  for (const end of ['-wal', '-shm']) rmSync(storeFile(folder) + end, { force: true });
  renameSync(storeFile(elsewhere), storeFile(folder));
  expect(valueOf(await page()).total).toBe(3);
});
