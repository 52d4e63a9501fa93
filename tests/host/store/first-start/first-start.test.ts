import { execFileSync } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { describe, expect, it, onTestFinished } from 'vitest';
import { storeFile } from '../../../../electron/host/store/store-file.ts';
import { runCommand } from '../../../helpers/run-command.ts';
import { testFolder } from '../../../helpers/test-folder.ts';
import { openHere, prepareOpening } from './opening.ts';

describe('an empty store is new, not damaged', () => {
  it.each<[string, (file: string) => void]>([
    ['a file of no bytes', (file) => writeFileSync(file, '')],
    [
      'a database without tables, whose journal mode was set',
      (file) => {
        const db = new Database(file);
        db.pragma('journal_mode = WAL');
        db.close();
      },
    ],
    [
      'a database from which everything was removed',
      (file) => {
        const db = new Database(file);
        db.exec('CREATE TABLE a (b); DROP TABLE a');
        db.close();
      },
    ],
    ...['-wal', '-shm', '-journal'].flatMap((suffix): [string, (file: string) => void][] => [
      [
        `a file of no bytes beside a ${suffix} that was left`,
        (file) => {
          writeFileSync(file, '');
          writeFileSync(file + suffix, Buffer.alloc(4096, 7));
        },
      ],
      [`a ${suffix} that was left without its store`, (file) => writeFileSync(file + suffix, Buffer.alloc(4096, 7))],
    ]),
  ])('%s', (_what, make) => {
    const folder = testFolder();
    make(storeFile(folder));
    expect(openHere(folder)).toBe('opened');
  });
});

it('six first starts at once all open the store', async () => {
  for (let round = 0; round < 3; round += 1) {
    const folder = testFolder();
    const starts = await Promise.all(Array.from({ length: 6 }, () => prepareOpening(folder)));
    for (const start of starts) start.go();
    expect(await Promise.all(starts.map(({ ended }) => ended))).toEqual(Array<string>(6).fill('opened'));
  }
}, 120_000);

/** A disk of its own in `folder`; false where this user may not have one. */
function mountDisk(folder: string, size: string): boolean {
  try {
    execFileSync('mount', ['-t', 'tmpfs', '-o', `size=${size}`, 'tmpfs', folder], { stdio: 'ignore' });
    onTestFinished(() => void execFileSync('umount', [folder]));
    return true;
  } catch {
    return false;
  }
}

it('a first start on a full disk says so in words, and the next one with space opens the store', async ({ skip }) => {
  for (const pages of [0, 1, 2, 4, 8, 16, 24]) {
    const disk = join(testFolder(), 'disk');
    mkdirSync(disk);
    if (!mountDisk(disk, '256k')) skip('needs the right to mount');
    const filler = join(disk, 'filler');
    writeFileSync(filler, Buffer.alloc((64 - pages) * 4096));
    const recorded = await runCommand(['record', '--instrument', '/dev/none=x', '--data', disk], disk);
    expect(recorded).toMatchObject({ status: 1, out: '' });
    expect(recorded.err).toMatch(/disk is full/u);
    expect(recorded.err).not.toMatch(/bug|damaged/u);
    execFileSync('rm', [filler]);
    execFileSync('mount', ['-o', 'remount,size=8m', disk]);
    expect(openHere(disk)).toBe('opened');
  }
}, 120_000);
