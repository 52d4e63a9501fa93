import { spawnSync } from 'node:child_process';
import { readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { writeDataPackage, writeZip } from '../../shared/files/data-package.ts';
import type { AnalysisResult } from '../../shared/model/results/analysis-result.ts';
import type { Trial } from '../../shared/model/capture.ts';
import { simulateVisit } from '../../shared/practice/simulate.ts';
import { callCommand } from '../helpers/call-command.ts';
import { runCommand, jsonLines, startCommand } from '../helpers/run-command.ts';
import { testFolder } from '../helpers/test-folder.ts';
import { waitUntil } from '../helpers/wait-until.ts';
import type { Running } from '../helpers/run-command.ts';
import { writeSample } from './sample-sweep.ts';

describe('the store on the command line', () => {
  it('imports a CSV with its setup and trials, once, and exports a capture with the same result', async () => {
    const folder = testFolder();
    const file = writeSample(folder, 'visit');
    const first = await callCommand(['import', file, '--json'], folder);
    expect(first.status).toBe(0);
    const [taken] = jsonLines(first.out) as [{ id: string; added: boolean }];
    expect(taken.added).toBe(true);
    const [again] = jsonLines((await callCommand(['import', file, '--json'], folder)).out);
    expect(again).toEqual({ file, id: taken.id, added: false });

    expect((await callCommand(['export', taken.id, '--out', 'out.zip'], folder)).status).toBe(0);
    const { out } = await callCommand(['analyze', file, 'out.zip', '--json'], folder);
    const [csv, zip] = jsonLines(out).map(({ file: _, ...rest }) => rest);
    expect(zip).toEqual(csv);
    const listed = jsonLines((await callCommand(['captures', '--json'], folder)).out);
    expect(listed).toHaveLength(1);
    expect(listed[0]).toMatchObject({ id: taken.id, status: 'complete', readings: 1200, startUnknown: true });
    // The time of import is not when the visit was.
    const shown = (await callCommand(['captures'], folder)).out;
    expect(shown).toMatch(new RegExp(`${taken.id} +not stated +complete`, 'u'));
    expect(shown).not.toMatch(/\d\d:\d\d/u);
  }, 30_000);

  it('reports a package that differs from the capture of the same id in the store, which does not change', async () => {
    const folder = testFolder();
    const { capture } = simulateVisit('clean', 1);
    const write = (trials: Trial[]) =>
      writeFileSync(join(folder, 'visit.zip'), writeZip(writeDataPackage({ ...capture, trials })));
    write(capture.trials);
    await callCommand(['import', 'visit.zip'], folder);
    expect(await callCommand(['import', 'visit.zip', '--json'], folder)).toMatchObject({ status: 0, err: '' });
    write(capture.trials.slice(1));
    const { status, out, err } = await callCommand(['import', 'visit.zip', '--json'], folder);
    expect(status).toBe(0);
    expect(jsonLines(out)).toMatchObject([{ id: capture.id, added: false, differs: ['trials'] }]);
    expect(err).toBe(
      `visit.zip: capture ${capture.id} is already in the store, but differs from this file in its trials. The one in the store was left unchanged.\n`,
    );
  }, 30_000);

  it('keeps stores apart by --data', async () => {
    const folder = testFolder();
    const file = writeSample(folder, 'visit');
    await callCommand(['import', file, '--data', 'one'], folder);
    expect(jsonLines((await callCommand(['captures', '--json', '--data', 'one'], folder)).out)).toHaveLength(1);
    // An import that fails creates a store all the same: an empty one.
    await callCommand(['import', 'gone.csv', '--data', 'other'], folder);
    const other = await callCommand(['captures', '--data', 'other'], folder);
    expect(other).toMatchObject({ status: 0, out: '', err: 'The store has no captures.\n' });
  });

  it('reports the files that could not be imported, and imports the others', async () => {
    const folder = testFolder();
    writeFileSync(join(folder, 'bad.csv'), 'no readings here\n');
    const good = writeSample(folder, 'good');
    const { status, out } = await callCommand(['import', 'bad.csv', good, 'gone.zip', '--json'], folder);
    expect(status).toBe(1);
    const results = jsonLines(out);
    expect(results.map((result) => result['file'])).toEqual(['bad.csv', good, 'gone.zip']);
    expect(results[1]).toMatchObject({ added: true });
    expect(results[2]).toMatchObject({ error: { code: 'file-missing' } });
  });

  it('reports that there is no such capture', async () => {
    const folder = testFolder();
    await callCommand(['import', writeSample(folder, 'visit')], folder);
    const { status, err } = await callCommand(['export', 'no-such-id', '--out', 'x.zip'], folder);
    expect(status).toBe(1);
    expect(err).toContain('There is no capture no-such-id in the store.');
    const report = await callCommand(['report', 'nothing-like-it', '--out', 'x.html'], folder);
    expect(report.status).toBe(1);
    expect(report.err).toContain('There is no file nothing-like-it, and no capture with that id in the store.');
  });

  it.each([
    ['captures', ['captures', '--json'], 0, ''],
    ['export', ['export', 'abc', '--out', 'x.zip'], 1, ''],
    ['report', ['report', 'abc', '--out', 'x.html'], 1, 'There is no file abc. '],
  ])(
    'is not created by %s, which only reads: the folder without a store is named',
    async (_name, args, status, before) => {
      const folder = testFolder();
      const ended = await callCommand([...args, '--data', 'no/such/folder'], folder);
      const place = join(folder, 'no/such/folder');
      expect(ended).toEqual({
        status,
        out: '',
        err: `pilot-bench: ${before}There is no Pilot Bench store in the folder ${place}, so there are no captures. Check the folder given with --data.\n`,
      });
      expect(readdirSync(folder)).toEqual([]);
    },
  );

  it('is the default one when the environment names an empty folder, as when it names none (common practice)', async () => {
    const folder = testFolder();
    const { err } = await runCommand(['captures'], folder, {
      PILOT_BENCH_DATA: '',
      HOME: folder,
      XDG_DATA_HOME: folder,
    });
    expect(err).toContain(`There is no Pilot Bench store in the folder ${join(folder, 'pilot-bench')},`);
  });

  it('is not changed when it is damaged, which is reported', async () => {
    const folder = testFolder();
    await callCommand(['import', writeSample(folder, 'visit')], folder);
    const found = spawnSync('find', [join(folder, 'store'), '-type', 'f', '-size', '+0'], { encoding: 'utf8' });
    const file = found.stdout.split('\n').find((name) => !/-(?:wal|shm)$/u.test(name) && name !== '') as string;
    writeFileSync(file, 'this is no database at all, and never was one\n'.repeat(100));
    const { status, out, err } = await callCommand(['captures'], folder);
    expect({ status, out }).toEqual({ status: 1, out: '' });
    expect(err).toContain('is damaged');
    expect(readFileSync(file, 'utf8')).toContain('this is no database');
  });
});

describe('report', () => {
  it('writes HTML and PDF from a file, with the numbers of the JSON in their rows', async () => {
    const folder = testFolder();
    const file = writeSample(folder, 'visit');
    writeSample(folder, 'before', { seed: 5, shift: -0.2 });
    const [result] = jsonLines((await callCommand(['analyze', file, '--json'], folder)).out) as unknown as [
      AnalysisResult,
    ];
    for (const args of [['proof.pdf', '--before', 'before.csv'], ['proof.html']]) {
      const made = await callCommand(['report', file, '--out', ...args], folder);
      expect(made).toMatchObject({ status: 0, out: '' });
    }
    const html = readFileSync(join(folder, 'proof.html'), 'utf8');
    const pdf = spawnSync('pdftotext', ['-layout', join(folder, 'proof.pdf'), '-'], { encoding: 'utf8' }).stdout;
    for (const [label, end] of [
      ['Low end', result.window.low],
      ['High end', result.window.high],
    ] as const) {
      const [value, from, to] = [end?.value, ...(end?.ci ?? [])].map((number) => (number as number).toFixed(2));
      // Rounded inward, in hundredths.
      const inward = label === 'Low end' ? Math.ceil : Math.floor;
      const guarded = (inward((end?.guarded ?? Number.NaN) * 100) / 100).toFixed(2);
      const cells = new RegExp(`<tr>(?:<[^>]+>)*${label}<.*?</tr>`, 'u').exec(html)?.[0].split(/(?:<[^>]+>)+/u);
      const kind = end?.cause === 'light-off' ? ', bracket of two trials' : '';
      expect(cells?.slice(1, 5)).toEqual([label, value, `${from} to ${to}${kind}`, guarded]);
      expect(pdf).toMatch(new RegExp(`^ *${label} +${value} +${from} to ${to},?[a-z ]* +${guarded} `, 'mu'));
    }
    // In HTML a number and its unit are kept on one line by a space that does not break.
    const setPoint = `${result.setPoint?.value.toFixed(2)}\\sinH2O`;
    expect(html).toMatch(new RegExp(`>Set point<(?:[^>]*>)+${setPoint}<`, 'u'));
    expect(pdf).toMatch(new RegExp(`^ *Set point .*\\n *${setPoint} `, 'mu'));
    expect(pdf).toContain('Comparison with the earlier sweep');
  }, 30_000);

  it('is written from a capture in the store', async () => {
    const folder = testFolder();
    const [taken] = jsonLines((await callCommand(['import', writeSample(folder, 'visit'), '--json'], folder)).out);
    const id = taken?.['id'] as string;
    expect((await callCommand(['report', id, '--out', 'proof.html'], folder)).status).toBe(0);
    expect(readFileSync(join(folder, 'proof.html'), 'utf8')).toContain(id);
  }, 30_000);
});

/** Waits for the address, which needs the page that `npm run build` makes. */
const addressOf = (serving: Running): Promise<boolean> =>
  waitUntil('the address', () => serving.out().includes('\n') || serving.child.exitCode !== null);

describe('serve', () => {
  it('prints one line with its address and access key, and ends on Ctrl-C', async () => {
    const serving = startCommand(['serve', '--no-open'], testFolder());
    await addressOf(serving);
    const line = /^Pilot Bench is at (http:\/\/127\.0\.0\.1:\d+\/\S+)\n$/u.exec(serving.out());
    expect(line, serving.err()).not.toBeNull();
    const url = line?.[1] as string;
    expect((await fetch(url)).status).toBe(200);
    expect((await fetch(new URL('/', url))).status).toBe(403);
    serving.child.kill('SIGINT');
    const { status, out } = await serving.ended;
    expect(status).toBe(0);
    expect(out.split('\n')).toHaveLength(2);
  }, 30_000);

  it('reports that a port is in use', async () => {
    const folder = testFolder();
    const first = startCommand(['serve', '--no-open'], folder);
    await addressOf(first);
    const { port } = new URL(first.out().trim().split(' ').at(-1) as string);
    const { status, out, err } = await runCommand(['serve', '--no-open', '--port', port], folder);
    expect({ status, out }).toEqual({ status: 1, out: '' });
    expect(err).toContain(`TCP port ${port} of this computer is in use`);
    first.child.kill('SIGTERM');
    expect((await first.ended).status).toBe(0);
  }, 30_000);
});
