import { rmSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import Database from 'better-sqlite3';
import { describe, expect, it } from 'vitest';
import type { Host } from '../../../electron/host/host.ts';
import { storeFile } from '../../../electron/host/store/store-file.ts';
import { readDataPackage, readZip, writeDataPackage, writeZip } from '../../../shared/files/data-package.ts';
import { practicePorts } from '../../../shared/practice/bench-meters.ts';
import { simulateVisit, sweepsOnly } from '../../../shared/practice/simulate.ts';
import { testFolder } from '../../helpers/test-folder.ts';
import { waitUntil } from '../../helpers/wait-until.ts';
import { waitForBanner, openTestHost, storedCapture, interruptAsOrphan, neverAborted, valueOf } from '../test-host.ts';

const { port, profile } = practicePorts.signal;
const connect = (host: Host) => host.handlers['meters.connect']({ port, profile }, neverAborted);
const listed = async (host: Host, capture: string) =>
  valueOf(await host.handlers['captures.list']({}, neverAborted)).find(({ id }) => id === capture);

describe('a recording', () => {
  it('with a practice meter beside a real one is practice, in the list and where it is shown', async () => {
    const folder = testFolder();
    const { host, record } = await openTestHost(folder);
    valueOf(await connect(host));
    const capture = await record();
    expect(storedCapture(folder, capture).practice).toBe(true);
    expect(await listed(host, capture)).toMatchObject({ practice: true });
    expect(valueOf(await host.handlers['captures.get']({ capture }, neverAborted))).toMatchObject({ practice: true });
  });

  it('of real meters becomes practice with the first practice meter, and stays so without it', async () => {
    const folder = testFolder();
    const { host, record } = await openTestHost(folder);
    const capture = await record();
    expect(storedCapture(folder, capture)).not.toHaveProperty('practice');
    expect(await listed(host, capture)).not.toHaveProperty('practice');
    valueOf(await connect(host));
    expect(storedCapture(folder, capture).practice).toBe(true);
    valueOf(await host.handlers['meters.disconnect']({ port }, neverAborted));
    valueOf(await host.handlers['captures.finish']({ capture }, neverAborted));
    expect(storedCapture(folder, capture).practice).toBe(true);
  });

  it('keeps its mark in the capture in which it goes on when another program has taken it up', async () => {
    const folder = testFolder();
    const asleep = await openTestHost(folder);
    const capture = await asleep.record();
    valueOf(await connect(asleep.host));
    // The new capture gets only the meters that are connected now, and this one is not practice.
    valueOf(await asleep.host.handlers['meters.disconnect']({ port }, neverAborted));
    asleep.send('1\r\n');
    await waitUntil('the first line', () => storedCapture(folder, capture).lines.length === 1);
    interruptAsOrphan(folder, capture);
    const next = await openTestHost(folder);
    valueOf(await next.host.handlers['captures.continue']({ capture }, neverAborted));
    next.send('101\r\n');
    await waitUntil('the line of the next', () => storedCapture(folder, capture).lines.length === 2);
    asleep.send('2\r\n');
    const told = (await waitForBanner('capture-taken', asleep.banner)) as { facts?: { now?: string } };
    const branch = storedCapture(folder, told.facts?.now ?? '');
    expect(branch.meters.map((meter) => meter.port)).toEqual(['gauge']);
    expect(branch.practice).toBe(true);
    expect(storedCapture(folder, capture).practice).toBe(true);
  });

  it('is marked by its rescue file when another program kept the store from taking the practice meter and its lines', async () => {
    const folder = testFolder();
    const { host, send, record } = await openTestHost(folder);
    const capture = await record();
    send('1\r\n');
    await waitUntil('the first line', () => storedCapture(folder, capture).lines.length === 1);
    const db = new Database(storeFile(folder));
    db.exec('BEGIN IMMEDIATE');
    expect(await connect(host)).toMatchObject({ fault: { code: 'store-unavailable' } });
    send('2.5\r\n', port);
    const told = await host.close();
    expect(told).toMatchObject({ code: 'lines-rescued' });
    expect(storedCapture(folder, capture)).not.toHaveProperty('practice');
    db.exec('ROLLBACK');
    db.close();
    interruptAsOrphan(folder, capture);
    const file = told?.facts?.['file'] as string;
    const bytes = new Uint8Array(await readFile(file));
    rmSync(file);
    const rescued = valueOf(readDataPackage({ file, entries: valueOf(readZip(bytes, file)) })).capture;
    expect(rescued.practice).toBe(true);

    const next = await openTestHost(folder);
    const files = [{ name: 'rescue.zip', bytes }];
    const taken = valueOf(await next.host.handlers['files.import']({ files }, neverAborted));
    expect(taken.captures).toMatchObject([{ id: capture, added: true }]);
    const whole = storedCapture(folder, capture);
    expect(whole.lines.map((line) => line.port)).toEqual(['gauge', port]);
    expect(whole.practice).toBe(true);
  });
});

describe('the CSV of a practice capture that is taken in again', () => {
  it('is listed as practice, and its report says so, without setup and trials beside it', async () => {
    const { host } = await openTestHost(testFolder());
    const { capture } = simulateVisit('clean', 1);
    const visit = { name: 'visit.zip', bytes: writeZip(writeDataPackage(sweepsOnly(capture))) };
    valueOf(await host.handlers['files.import']({ files: [visit] }, neverAborted));
    const saved = await host.handlers['files.export']({ capture: capture.id, format: 'csv' }, neverAborted);
    const { bytes } = valueOf(saved);
    const taken = valueOf(await host.handlers['files.import']({ files: [{ name: 'again.csv', bytes }] }, neverAborted));
    const again = taken.captures[0]!.id;
    expect(await listed(host, again)).toMatchObject({ practice: true, lines: 0 });
    const made = valueOf(await host.handlers['report.make']({ capture: again, format: 'html' }, neverAborted));
    const html = new TextDecoder().decode(made.bytes);
    expect(html).toMatch(/<h1>PRACTICE, an invented burner: proof of pilot settings<\/h1>/);
    expect(html).toContain(`@bottom-left { content: "PRACTICE: Capture ${again}"`);
  });
});
