import { rmSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterEach, describe, expect, it, onTestFinished } from 'vitest';
import { readDataPackage, readZip } from '../../../shared/files/data-package.ts';
import { testFolder } from '../../helpers/test-folder.ts';
import { waitUntil } from '../../helpers/wait-until.ts';
import { waitForBanner, openTestHost, storedCapture, lineTexts, neverAborted, valueOf } from '../test-host.ts';
import { fillDisk, freeDisk } from './fill-disk.ts';
import { fillFolders, freeFolders } from './refuse-files.ts';

afterEach(freeDisk);

const numbers = (from: number, to: number) => Array.from({ length: to - from + 1 }, (_, i) => `${from + i}`);
const asSent = (lines: string[]) => `${lines.join('\r\n')}\r\n`;

describe('a disk that is full', () => {
  it('is reported with the number of pending lines; they are stored in order, with their marks, once there is space', async () => {
    const folder = testFolder();
    const { host, send, record, banner } = await openTestHost(folder);
    const capture = await record();
    send(asSent(numbers(1, 10)));
    await waitUntil('ten lines', () => storedCapture(folder, capture).lines.length === 10);
    fillDisk();
    // More than the last page of the store has room for.
    send(asSent(numbers(11, 2000)));
    const shown = await waitForBanner('store-full', banner);
    expect(shown).toMatchObject({ code: 'store-full', facts: { waiting: 1990 } });
    expect(shown.message).toMatch(/^The disk is full\. 1990 lines are only in memory, not saved yet\./u);
    await host.handlers['captures.mark']({ capture, kind: 'note', text: 'in between' }, neverAborted);
    send(asSent(numbers(2001, 2010)));
    expect(await host.handlers['captures.finish']({ capture }, neverAborted)).toMatchObject({
      ok: false,
      fault: { code: 'store-full', facts: { waiting: 2001 } },
    });
    expect(storedCapture(folder, capture)).toMatchObject({ status: 'recording' });

    freeDisk();
    await waitUntil('all lines', () => storedCapture(folder, capture).lines.length === 2010);
    expect(lineTexts(storedCapture(folder, capture))).toEqual(numbers(1, 2010));
    expect(storedCapture(folder, capture).marks).toMatchObject([{ kind: 'note', text: 'in between' }]);
    expect(await banner()).toBeUndefined();
    valueOf(await host.handlers['captures.finish']({ capture }, neverAborted));
    expect(storedCapture(folder, capture)).toMatchObject({ status: 'complete' });
  });

  it('a sweep begins and ends all the same, and a recording that cannot be finished yet ends its sweep once', async () => {
    const folder = testFolder();
    const { host, send, record, banner } = await openTestHost(folder);
    const capture = await record();
    const mark = (kind: 'sweep-start' | 'sweep-end') =>
      host.handlers['captures.mark']({ capture, kind, text: '' }, neverAborted);
    fillDisk();
    // More than the last page of the store has room for.
    send(asSent(numbers(1, 3000)));
    await waitForBanner('store-full', banner);
    valueOf(await mark('sweep-start'));
    valueOf(await mark('sweep-end'));
    valueOf(await mark('sweep-start'));
    for (let attempt = 0; attempt < 3; attempt += 1)
      expect(await host.handlers['captures.finish']({ capture }, neverAborted)).toMatchObject({
        fault: { code: 'store-full' },
      });
    freeDisk();
    valueOf(await host.handlers['captures.finish']({ capture }, neverAborted));
    expect(storedCapture(folder, capture).marks.map(({ kind }) => kind)).toEqual([
      'sweep-start',
      'sweep-end',
      'sweep-start',
      'sweep-end',
    ]);
  });

  it('at the end of the program ends the trial that is running, in the file that the capture is saved to', async () => {
    const folder = testFolder();
    const { host, send, record, banner } = await openTestHost(folder);
    const capture = await record();
    send('2.28\r\n');
    await waitUntil('the first line', () => storedCapture(folder, capture).lines.length === 1);
    fillDisk();
    send(asSent(numbers(1, 3000)));
    await waitForBanner('store-full', banner);
    valueOf(await host.handlers['trials.begin']({ capture, sparkDelayS: 0 }, neverAborted));
    const file = (await host.close())?.facts?.['file'] as string;
    const bytes = await readFile(file);
    rmSync(file);
    freeDisk();
    const rescued = valueOf(readDataPackage({ file, entries: valueOf(readZip(bytes, file)) })).capture;
    expect(rescued.marks.map(({ kind }) => kind)).toEqual(['trial-start', 'trial-end']);
  });

  it('and no other disk to save the capture on: its lines stay in memory, and are reported as unsaved', async () => {
    const folder = testFolder();
    const { host, send, record } = await openTestHost(folder);
    const capture = await record();
    fillDisk();
    fillFolders(['/']);
    onTestFinished(freeFolders);
    send(asSent(numbers(1, 3000)));
    const rescued = await host.rescue(join(folder, 'rescue.zip'));
    expect(rescued).toMatchObject({
      saved: false,
      fault: { code: 'lines-unsaved', facts: { lines: 3000, capture } },
    });
    expect(rescued?.fault.facts?.['reason']).toMatch(/rescue\.zip could not be written: the disk is full$/u);
    freeDisk();
    freeFolders();
    valueOf(await host.handlers['captures.finish']({ capture }, neverAborted));
    expect(lineTexts(storedCapture(folder, capture))).toEqual(numbers(1, 3000));
  });

  it('at the end of the program: the whole capture is saved in a file, and importing that completes the store', async () => {
    const folder = testFolder();
    const { host, send, record } = await openTestHost(folder);
    const capture = await record();
    send(asSent(numbers(1, 10)));
    await waitUntil('ten lines', () => storedCapture(folder, capture).lines.length === 10);
    fillDisk();
    send(asSent(numbers(11, 3000)));
    const closeFault = await host.close();
    expect(closeFault).toMatchObject({ code: 'lines-rescued', facts: { lines: 2990, capture } });
    const file = closeFault?.facts?.['file'] as string;
    expect(closeFault?.message).toContain(file);
    const bytes = await readFile(file);
    rmSync(file);
    freeDisk();

    const next = await openTestHost(folder);
    expect(storedCapture(folder, capture).status).toBe('interrupted');
    const files = [{ name: 'rescue.zip', bytes: new Uint8Array(bytes) }];
    const imported = valueOf(await next.host.handlers['files.import']({ files }, neverAborted));
    expect(imported).toEqual({ captures: [{ id: capture, added: true }], problems: [] });
    const whole = storedCapture(folder, capture);
    expect(lineTexts(whole)).toEqual(numbers(1, 3000));
    expect(whole.readings.map(({ value }) => value)).toEqual(numbers(1, 3000).map(Number));
    expect(whole.readings.map(({ line }) => line)).toEqual(whole.lines.map(({ seq }) => seq));
    const again = valueOf(await next.host.handlers['files.import']({ files }, neverAborted));
    expect(again.captures).toEqual([{ id: capture, added: false }]);
    valueOf(await next.host.handlers['captures.finish']({ capture }, neverAborted));
    expect(storedCapture(folder, capture)).toMatchObject({ status: 'complete' });
  });
});
