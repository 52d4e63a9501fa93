import { expect, it } from 'vitest';
import { createListening, type RunningProcess } from '../../../electron/host/jobs/running-process.ts';
import { chunkRows } from '../../../electron/host/store/import/incomplete-import.ts';
import { writeDataPackage, writeZip } from '../../../shared/files/data-package.ts';
import type { Reading } from '../../../shared/model/reading.ts';
import { testFolder } from '../../helpers/test-folder.ts';
import { waitUntil } from '../../helpers/wait-until.ts';
import { neverAborted, openTestHost, type TestHost, valueOf } from '../test-host.ts';

const chunks = 3;
/** A data package of so many chunks of readings. */
function long(): { name: string; bytes: Uint8Array } {
  const readings = Array.from({ length: chunks * chunkRows }, (_, i): Reading => {
    return { role: 'flame_signal', unit: 'V', elapsedS: i / 100, value: 4.6, raw: '4.60' };
  });
  const capture = { id: 'long', meters: [], setup: {}, lines: [], marks: [], trials: [], notes: [], readings };
  return { name: 'long.zip', bytes: writeZip(writeDataPackage(capture)) };
}

/** Collects what a page sees of the progress until the test ends it. */
function watchProgress({ host }: TestHost) {
  const seen: { file?: string | undefined; part?: number | undefined }[] = [];
  const ending = new AbortController();
  const watching = (async () => {
    for await (const one of host.handlers['files.progress']({}, ending.signal)) seen.push(one);
  })();
  return { seen, end: async () => (ending.abort(), await watching) };
}

it('an import shows how far it is, from nothing to all of it, and then nothing again', async () => {
  const test = await openTestHost(testFolder());
  const { seen, end } = watchProgress(test);
  const outcome = await test.host.handlers['files.import']({ files: [long()] }, neverAborted);
  expect(valueOf(outcome).captures).toEqual([{ id: 'long', added: true }]);
  await waitUntil('the end', () => seen.length > 2 && seen.at(-1)?.file === undefined);
  await end();
  expect(seen[0]).toEqual({});
  const parts = seen.slice(1, -1).map(({ file, part }) => (expect(file).toBe('long.zip'), part ?? 0));
  expect(parts).toEqual(parts.toSorted((a, b) => a - b));
  expect(parts.at(-1)).toBeGreaterThan(0);
  for (const part of parts) expect(part).toBeLessThanOrEqual(1);
});

it('one that is stopped ends its process at once, and shows no progress anymore', async () => {
  const orders: string[] = [];
  let killed = 0;
  const startProcess = (): RunningProcess => {
    const listening = createListening();
    return {
      send: ({ job }) => {
        orders.push(job.kind);
        listening.message({ progress: { file: 'long.zip' } });
        listening.message({ progress: { file: 'long.zip', part: 0.25 } });
      },
      listen: listening.listen,
      hold: () => {},
      kill: async () => void (killed += 1),
    };
  };
  const test = await openTestHost(testFolder(), { startProcess });
  const { seen, end } = watchProgress(test);
  const stop = new AbortController();
  const files = [{ name: 'long.zip', bytes: new Uint8Array() }];
  const importing = test.host.handlers['files.import']({ files }, stop.signal);
  await waitUntil('the first part', () => seen.at(-1)?.part === 0.25);
  stop.abort();
  expect(await importing).toMatchObject({ ok: false, fault: { code: 'cancelled' } });
  expect([orders, killed]).toEqual([['import'], 1]);
  await waitUntil('no progress', () => seen.at(-1)?.file === undefined);
  await end();
});
