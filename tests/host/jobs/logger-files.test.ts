import { expect, it } from 'vitest';
import { importCapture } from '../../../electron/host/store/import/import-capture.ts';
import { openStore } from '../../../electron/host/store/open.ts';
import { readLoggerFile } from '../../../shared/files/logger/read-logger-file.ts';
import type { Mapping } from '../../../shared/model/logger/mapping.ts';
import { testFolder } from '../../helpers/test-folder.ts';
import { neverAborted, openTestHost, storedCapture, valueOf } from '../test-host.ts';

const bytesOf = (text: string) => new TextEncoder().encode(text);
/** Three rows of a minute, the day of which may be a month. */
const textOf = (day: string) =>
  ['Zeit;Druck;Flamme [V]', ...['00', '30', '59'].map((s) => `${day} 10:00:${s};2,51;4,6`), ''].join('\n');
const first = { name: 'visit.txt', bytes: bytesOf(textOf('03/04/2026')) };
const next = { name: 'next.txt', bytes: bytesOf(textOf('05/06/2026')) };
const mapping: Mapping = {
  time: { column: 'Zeit', format: 'dd/MM/yyyy HH:mm:ss' },
  columns: [
    { column: 'Druck', role: 'pilot_pressure', unit: 'mbar' },
    { column: 'Flamme [V]', role: 'flame_signal' },
  ],
};

async function openHost(folder = testFolder()) {
  const { host } = await openTestHost(folder);
  const { handlers } = host;
  return {
    folder,
    host,
    load: async (files: { name: string; bytes: Uint8Array; mapping?: Mapping }[]) =>
      valueOf(await handlers['files.import']({ files }, neverAborted)),
    preview: async (file: { name: string; bytes: Uint8Array }, given?: Mapping) =>
      valueOf(await handlers['files.preview']({ file, ...(given && { mapping: given }) }, neverAborted)),
  };
}

it("another logger's file is not taken without a mapping, and is no problem either", async () => {
  const { load } = await openHost();
  const picture = { name: 'photo.csv', bytes: Uint8Array.of(0xff, 0xd8, 0, 0, 1, 0) };
  const setup = { name: 'visit.setup.json', bytes: bytesOf('{}') };
  const own = { name: 'own.csv', bytes: bytesOf('elapsed_s,flame_signal_V\n0,4.6\n') };
  const table = { name: 'table.csv', bytes: first.bytes };
  const { captures, foreign, problems } = await load([first, picture, setup, own, table]);
  expect(foreign?.map(({ name, fault }) => [name, fault.code])).toEqual([
    ['visit.txt', 'file-kind-unknown'],
    ['table.csv', 'csv-no-elapsed'],
  ]);
  expect(captures).toHaveLength(1);
  expect(problems.map(({ code }) => code)).toEqual(['file-kind-unknown']);
});

it('with its mapping it is a capture with its setup and trials, and the same capture the second time', async () => {
  const { load, folder, preview } = await openHost();
  expect((await preview(first)).questions).toHaveLength(2);
  const shown = await preview(first, mapping);
  expect(shown.questions).toEqual([]);
  const files = [
    { ...first, mapping },
    { name: 'visit.setup.json', bytes: bytesOf('{"pilotTrialSeconds":10}') },
    { name: 'visit.trials.csv', bytes: bytesOf('pressure_mbar,spark_delay_s,lit\n2.5,0,yes\n') },
  ];
  const { captures, problems } = await load(files);
  expect(problems).toEqual([]);
  expect(captures).toMatchObject([{ added: true, startedAt: shown.start!.at, taken: shown.taken }]);
  const stored = storedCapture(folder, captures[0]!.id);
  expect(stored.readings.map(({ role, unit, elapsedS, value }) => [role, unit, elapsedS, value]).slice(-2)).toEqual([
    ['pilot_pressure', 'mbar', 59, 2.51],
    ['flame_signal', 'V', 59, 4.6],
  ]);
  expect(stored.setup).toEqual({ pilotTrialSeconds: 10 });
  expect(stored.trials).toMatchObject([{ pressure: 2.5, unit: 'mbar', lit: true }]);
  // By what is remembered it is read in the same way.
  const again = await preview(first);
  const second = (await load([{ ...first, mapping: again.mapping }, ...files.slice(1)])).captures;
  expect(second).toMatchObject([{ id: captures[0]!.id, added: false }]);
  expect(second[0]).not.toHaveProperty('differs');
});

it('that a store has by the id that such a capture had before is the same capture', async () => {
  const { host, folder } = await openHost();
  await host.close();
  const read = readLoggerFile({ file: first.name, bytes: first.bytes, mapping });
  if (!read.ok) throw new Error(read.fault.message);
  const former = { ...read.value.capture, id: read.value.logger!.formerId };
  const store = openStore(folder);
  if (!store.ok) throw new Error(store.fault.message);
  importCapture(store.value.db, former, undefined, '2026-04-04T12:00:00Z');
  store.value.close();

  const later = await openHost(folder);
  const { captures } = await later.load([{ ...first, mapping }]);
  expect(captures).toMatchObject([{ id: former.id, added: false }]);
  expect(captures[0]).not.toHaveProperty('differs');
});

it('its mapping is remembered by its heading, also after a restart, and only once it was read by it', async () => {
  const { load, preview, host, folder } = await openHost();
  const refused = await load([{ ...first, mapping: { ...mapping, time: { format: 'yyyy-MM-dd HH:mm' } } }]);
  expect(refused.problems).toHaveLength(1);
  expect((await preview(next)).remembered).toBeUndefined();
  await load([{ ...first, mapping }]);
  await host.close();

  const later = await openHost(folder);
  const shown = await later.preview(next);
  expect(shown.remembered?.usedAt).toMatch(/^\d{4}-\d\d-\d\dT/u);
  expect(shown.questions).toEqual([]);
  expect(shown.table?.timeFormat).toBe('dd/MM/yyyy HH:mm:ss');
  expect((await later.load([{ ...next, mapping: shown.mapping }])).captures).toMatchObject([{ added: true }]);
  const other = { name: 'other.txt', bytes: bytesOf(textOf('05/06/2026').replace('Druck', 'Druck 2')) };
  expect((await later.preview(other)).remembered).toBeUndefined();
});
