import { execFileSync, spawn } from 'node:child_process';
import { copyFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it, onTestFinished } from 'vitest';
import { readBytes } from '../../electron/cli/captures/files.ts';
import { runCommand } from '../helpers/run-command.ts';
import { testFolder } from '../helpers/test-folder.ts';

const sample = new URL('../../sample-captures/clean.csv', import.meta.url).pathname;

/** A named pipe, and the shell command that writes into it until the test ends. */
function pipe(folder: string, writer?: string): string {
  const file = join(folder, 'pipe');
  execFileSync('mkfifo', [file]);
  if (writer === undefined) return file;
  const child = spawn('sh', ['-c', `${writer} > "$0"`, file], { stdio: 'ignore', detached: true });
  onTestFinished(() => {
    try {
      process.kill(-child.pid!, 'SIGKILL');
    } catch {
      // It has ended by itself.
    }
  });
  return file;
}

it.runIf(process.platform === 'linux')(
  'a device is refused by every command that reads a capture',
  async () => {
    const folder = testFolder();
    const device = '/dev/zero';
    for (const args of [
      ['analyze', device],
      ['import', device],
      ['convert', device, 'out.zip'],
      ['report', device, '--out', 'out.html'],
      ['analyze', sample, '--setup', device],
    ]) {
      const { status, err } = await runCommand(args, folder);
      expect({ args, status }).toEqual({ args, status: 1 });
      expect(err).toMatch(/it is a device, not a file/u);
    }
  },
  60_000,
);

it('a pipe is read to its end', async () => {
  const folder = testFolder();
  const { status, out } = await runCommand(['analyze', pipe(folder, `cat ${sample}`)], folder);
  expect(status).toBe(0);
  expect(out).toMatch(/Set point/u);
}, 60_000);

it('an endless pipe is refused in bounded memory', async () => {
  const folder = testFolder();
  const { status, err } = await runCommand(['analyze', pipe(folder, 'cat /dev/zero')], folder);
  expect(status).toBe(1);
  expect(err).toMatch(/is too large: it holds 50\d MB, and the limit is 500 MB/u);
}, 120_000);

it('a pipe that stays silent is refused, and one that nobody writes into is empty', async () => {
  const silent = await readBytes(pipe(testFolder(), 'sleep 20'), 0.5);
  expect(silent).toMatchObject({ ok: false, fault: { code: 'file-unreadable' } });
  expect(await readBytes(pipe(testFolder()), 0.2)).toMatchObject({ ok: true, value: { length: 0 } });
});

it('a file is read as it is', async () => {
  const file = join(testFolder(), 'copy.csv');
  copyFileSync(sample, file);
  const read = await readBytes(file);
  expect(read.ok && Buffer.from(read.value).equals(execFileSync('cat', [sample], { maxBuffer: 1e8 }))).toBe(true);
});
