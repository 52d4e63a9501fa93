import { existsSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { describe, expect, it, onTestFinished } from 'vitest';
import { storeFile } from '../../../electron/host/store/store-file.ts';
import { runCommand, jsonLines, startCommand, testFolder, waitUntil } from '../../helpers/run-command.ts';
import { count, plugIn } from '../../helpers/pty-meter.ts';

const manometer = 'Manometer, one number a line';
const fillOnSignal = new URL('../../host/store/fill-on-signal.ts', import.meta.url).href;

/** Every number that the store holds, in order. */
function kept(folder: string): number[] {
  const db = new Database(storeFile(join(folder, 'store')), { readonly: true });
  const lines = db.prepare('SELECT CAST(raw AS TEXT) FROM line ORDER BY capture, seq').pluck().all() as string[];
  db.close();
  return lines.map(Number);
}

const run = (length: number) => Array.from({ length }, (_, i) => i + 1);

/** A recording whose disk is full as soon as the store needs another page; told so already. */
async function recordOnFullDisk(folder: string, out: string[], env: Record<string, string> = {}) {
  const meter = await plugIn(join(folder, 'a'));
  const recording = startCommand(['record', '--instrument', `${meter.path}=${manometer}`, ...out], folder, {
    NODE_OPTIONS: `--import=${fillOnSignal}`,
    ...env,
  });
  await waitUntil('the recording', () => recording.err().includes('Recording '));
  const sending = count(meter, 2, (n) => `${n}`);
  await waitUntil('the first lines', () => kept(folder).length > 0);
  recording.child.kill('SIGUSR2');
  await waitUntil('the disk to be called full', () => recording.err().includes('The disk is full'));
  return { recording, sending };
}

describe('record, while its disk is full', () => {
  it('goes on, says how many lines wait, and stores them all once there is room', async () => {
    const folder = testFolder();
    const { recording } = await recordOnFullDisk(folder, []);
    expect(recording.err()).toMatch(/The disk is full\. \d+ lines are only in memory, not saved yet\./u);
    recording.child.kill('SIGUSR2');
    await waitUntil('the end of the trouble', () => recording.err().includes('All lines held in memory are stored.'));
    recording.child.kill('SIGINT');
    const { status, err } = await recording.ended;
    expect(status).toBe(0);
    const lines = kept(folder);
    expect(err).toContain(`Complete: ${lines.length} lines`);
    expect(lines).toEqual(run(lines.length));
  }, 60_000);

  it.each([
    ['the named package', ['--out', 'visit.zip']],
    ['a file in the folder for temporary files', []],
  ])(
    'and stopped: puts the whole capture into %s, claims nothing, and importing that completes the store',
    async (_where, out) => {
      const folder = testFolder();
      const { recording } = await recordOnFullDisk(folder, out);
      recording.child.kill('SIGINT');
      const { status, out: printed, err } = await recording.ended;
      expect(status).toBe(1);
      expect(printed).toBe('');
      expect(err).not.toContain('Complete');
      const [, waited, id = '', file = ''] =
        /(\d+) lines of capture (\S+) could not be stored\. The whole capture, with those lines, was saved to (\S+)\. /u.exec(
          err,
        ) ?? [];
      expect(file).toBe(out[1] ?? join(tmpdir(), `pilot-bench-rescue-${id}.zip`));
      onTestFinished(() => {
        if (!out[1]) rmSync(file, { force: true });
      });
      const before = kept(folder);
      expect(jsonLines((await runCommand(['captures', '--json'], folder)).out)).toMatchObject([
        { id, status: 'interrupted', lines: before.length },
      ]);
      expect((await runCommand(['import', file], folder)).out).toBe(`${file}: ${id} added\n`);
      const after = kept(folder);
      expect(after).toEqual(run(before.length + Number(waited)));
      expect((await runCommand(['import', file], folder)).out).toContain('is already in the store');
      expect(kept(folder)).toEqual(after);
    },
    60_000,
  );

  it('and stopped with no room anywhere: says so, waits, and completes the capture once there is room', async () => {
    const folder = testFolder();
    const nowhere = join(folder, 'no-such-folder');
    const { recording } = await recordOnFullDisk(folder, [], { TMPDIR: nowhere });
    recording.child.kill('SIGINT');
    await waitUntil('the warning', () => recording.err().includes('A second Ctrl-C'));
    expect(recording.err()).toMatch(/\d+ lines of capture \S+ could be saved neither in the store nor in a file/u);
    expect(existsSync(nowhere)).toBe(false);
    recording.child.kill('SIGUSR2');
    const { status, err } = await recording.ended;
    expect(status).toBe(0);
    expect(err).toContain(`Complete: ${kept(folder).length} lines`);
    expect(kept(folder)).toEqual(run(kept(folder).length));
  }, 60_000);
});
