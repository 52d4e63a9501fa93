import { chmodSync, mkdirSync, readFileSync, readdirSync, statSync, symlinkSync, writeFileSync } from 'node:fs';
import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { checkBeside, checkOutputFiles } from '../../electron/cli/captures/check-output.ts';
import { callCommand } from '../helpers/call-command.ts';
import { testFolder } from '../helpers/test-folder.ts';
import { writeSample } from './sample-sweep.ts';

const older = 'kept from last year\n';

/** A folder with a sweep to read, and a file of last year under the name `file`. */
function folderWith(file: string): string {
  const folder = testFolder();
  writeSample(folder, 'sweep');
  writeFileSync(join(folder, file), older);
  return folder;
}

const contentOf = (folder: string, file: string) => readFileSync(join(folder, file), 'utf8');

const writers: [command: string, file: string, args: string[]][] = [
  ['convert', 'out.csv', ['convert', 'sweep.csv', 'out.csv']],
  ['convert', 'out.zip', ['convert', 'sweep.csv', 'out.zip']],
  ['report', 'out.html', ['report', 'sweep.csv', '--out', 'out.html']],
  ['simulate', 'out.csv', ['simulate', '--scenario', 'clean', '--out', 'out.csv']],
  ['simulate', 'truth.json', ['simulate', '--scenario', 'clean', '--out', 'out.csv', '--truth', 'truth.json']],
];

describe('a file that exists', () => {
  it.each(writers)(
    'is not replaced by %s (%s), unless with --force',
    async (_command, file, args) => {
      const folder = folderWith(file);
      const before = readdirSync(folder).sort();
      const refused = await callCommand(args, folder);
      expect(refused.status).toBe(1);
      expect(refused.err).toContain(file);
      expect(refused.err).toContain('--force');
      expect(contentOf(folder, file)).toBe(older);
      // Nothing else was written meanwhile.
      expect(readdirSync(folder).sort()).toEqual(before);
      expect((await callCommand([...args, '--force'], folder)).status).toBe(0);
      expect(contentOf(folder, file)).not.toBe(older);
    },
    60_000,
  );

  it('is refused before a recording starts, and before the store is opened', async () => {
    const folder = folderWith('out.zip');
    const args = ['record', '--instrument', '/dev/no-such-port=Manometer, one number a line', '--out', 'out.zip'];
    const { status, err } = await callCommand([...args, '--data', 'store'], folder);
    expect(status).toBe(1);
    expect(err).toContain('out.zip exists already');
    expect(readdirSync(folder)).not.toContain('store');
  });

  it('keeps who may read it when it is replaced', async () => {
    const folder = folderWith('out.html');
    chmodSync(join(folder, 'out.html'), 0o600);
    await callCommand(['report', 'sweep.csv', '--out', 'out.html', '--force'], folder);
    expect(contentOf(folder, 'out.html')).not.toBe(older);
    expect(statSync(join(folder, 'out.html')).mode & 0o777).toBe(0o600);
  });

  it('is never replaced when it is read-only, a link or a device', async () => {
    const folder = folderWith('read-only.html');
    chmodSync(join(folder, 'read-only.html'), 0o444);
    writeFileSync(join(folder, 'target.html'), older);
    symlinkSync('target.html', join(folder, 'link.html'));
    spawnSync('mkfifo', [join(folder, 'pipe.html')]);
    for (const file of ['read-only.html', 'link.html', 'pipe.html']) {
      const { status, err } = await callCommand(['report', 'sweep.csv', '--out', file, '--force'], folder);
      expect([file, status]).toEqual([file, 1]);
      expect(err).toContain(`${file} could not be written`);
    }
    expect(contentOf(folder, 'read-only.html')).toBe(older);
    expect(contentOf(folder, 'target.html')).toBe(older);
  }, 30_000);
});

describe('what stands beside a CSV', () => {
  it('is not left there to be read with another sweep, whether forced or not', async () => {
    for (const force of [[], ['--force']]) {
      const folder = testFolder();
      writeFileSync(join(folder, 'sweep.csv'), contentOf(sweepAlone(), 'sweep.csv'));
      writeFileSync(join(folder, 'out.trials.csv'), 'pressure_inH2O,spark_delay_s,lit\n2.4,0,yes\n');
      const { status, err } = await callCommand(['convert', 'sweep.csv', 'out.csv', ...force], folder);
      expect(status).toBe(1);
      expect(err).toContain('out.trials.csv would be taken for a part of out.csv');
      expect(readdirSync(folder).sort()).toEqual(['out.trials.csv', 'sweep.csv']);
    }
  }, 30_000);

  it('is replaced with --force where the sweep has its own', async () => {
    const folder = testFolder();
    await callCommand(['simulate', '--scenario', 'clean', '--out', 'out.csv'], folder);
    const [setup, trials] = ['out.setup.json', 'out.trials.csv'].map((file) => contentOf(folder, file));
    writeFileSync(join(folder, 'out.trials.csv'), 'pressure_inH2O,spark_delay_s,lit\n');
    const again = ['simulate', '--scenario', 'clean', '--out', 'out.csv', '--force'];
    expect((await callCommand(again, folder)).status).toBe(0);
    expect(contentOf(folder, 'out.setup.json')).toBe(setup);
    expect(contentOf(folder, 'out.trials.csv')).toBe(trials);
  }, 30_000);
});

describe('a package folder', () => {
  it('is written where there is none or an empty one, over an older package with --force, and over nothing else', async () => {
    const folder = folderWith('note.txt');
    mkdirSync(join(folder, 'out'));
    expect((await callCommand(['convert', 'sweep.csv', 'out'], folder)).status).toBe(0);
    expect((await callCommand(['convert', 'sweep.csv', 'out'], folder)).status).toBe(1);
    expect((await callCommand(['convert', 'sweep.csv', 'out', '--force'], folder)).status).toBe(0);
    writeFileSync(join(folder, 'out', 'photo.jpg'), older);
    const beside = await callCommand(['convert', 'sweep.csv', 'out', '--force'], folder);
    expect([beside.status, beside.err]).toEqual([1, expect.stringContaining('photo.jpg would be taken for a part')]);
    mkdirSync(join(folder, 'photos'));
    writeFileSync(join(folder, 'photos', 'photo.jpg'), older);
    const other = await callCommand(['convert', 'sweep.csv', 'photos', '--force'], folder);
    expect([other.status, other.err]).toEqual([1, expect.stringContaining('no data package')]);
    expect(readdirSync(join(folder, 'photos'))).toEqual(['photo.jpg']);
    // Neither a device nor a file becomes a folder, and --force is not offered where it would not help.
    for (const out of ['/dev/null', 'note']) {
      if (out === 'note') writeFileSync(join(folder, out), older);
      const { status, err } = await callCommand(['convert', 'sweep.csv', out, '--force'], folder);
      expect([status, err]).toEqual([1, `pilot-bench: ${out} could not be written: it is not a folder.\n`]);
    }
    expect(contentOf(folder, 'note')).toBe(older);
  }, 60_000);
});

describe('the faults of writing', () => {
  it('have their codes', async () => {
    const folder = folderWith('out.csv');
    const [out, beside] = [join(folder, 'out.csv'), join(folder, 'out.trials.csv')];
    writeFileSync(beside, older);
    expect(await checkOutputFiles([out], {})).toMatchObject({ fault: { code: 'file-exists' } });
    expect(await checkBeside(out, [beside])).toMatchObject({ fault: { code: 'file-beside' } });
    expect(await checkOutputFiles([join(folder, 'none', 'out.csv')], { force: true })).toMatchObject({
      fault: { code: 'file-unwritable' },
    });
  });
});

describe('the name of a file to write', () => {
  it.each([
    ['convert', ['convert', 'sweep.csv', '']],
    ['simulate', ['simulate', '--scenario', 'clean', '--out', '']],
    ['simulate', ['simulate', '--scenario', 'clean', '--out', 'out.csv', '--truth', '']],
    ['export', ['export', 'id', '--out', '']],
    ['report', ['report', 'sweep.csv', '--out', '']],
    ['record', ['record', '--instrument', 'a=Manometer, one number a line', '--out', '']],
  ])('must not be empty (%s)', async (_command, args) => {
    const folder = testFolder();
    writeSample(folder, 'sweep');
    const { status, err } = await callCommand(args, folder);
    expect(status).toBe(2);
    expect(err).toContain('empty');
  });
});

/** A folder with a sweep that has neither setup nor trials. */
function sweepAlone(): string {
  const folder = testFolder();
  writeSample(folder, 'sweep');
  return folder;
}
