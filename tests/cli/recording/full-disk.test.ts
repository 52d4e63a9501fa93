import { existsSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { describe, expect, it, onTestFinished } from 'vitest';
import { storeFile } from '../../../electron/host/store/store-file.ts';
import { runCommand, jsonLines, startCommand } from '../../helpers/run-command.ts';
import { testFolder } from '../../helpers/test-folder.ts';
import { wait, waitUntil } from '../../helpers/wait-until.ts';
import { count, plugIn } from '../../helpers/pty-meter.ts';

const manometer = 'Manometer, one number a line';
const fillOnSignal = new URL('../../host/store/fill-on-signal.ts', import.meta.url).href;

/** Every number in the store, in order. */
function storedNumbers(folder: string): number[] {
  const db = new Database(storeFile(join(folder, 'store')), { readonly: true });
  const lines = db.prepare('SELECT CAST(raw AS TEXT) FROM line ORDER BY capture, seq').pluck().all() as string[];
  db.close();
  return lines.map(Number);
}

const countTo = (length: number) => Array.from({ length }, (_, i) => i + 1);

/** A recording whose disk is full as soon as the store needs another page, and that has reported so. */
async function recordOnFullDisk(folder: string, out: string[], env: Record<string, string> = {}) {
  const meter = await plugIn(join(folder, 'a'));
  const recording = startCommand(['record', '--instrument', `${meter.path}=${manometer}`, ...out], folder, {
    NODE_OPTIONS: `--import=${fillOnSignal}`,
    ...env,
  });
  await waitUntil('the recording', () => recording.err().includes('Recording '));
  const sending = count(meter, 2, (n) => `${n}`);
  await waitUntil('the first lines', () => storedNumbers(folder).length > 0);
  recording.child.kill('SIGUSR2');
  await waitUntil('the disk to be called full', () => recording.err().includes('The disk is full'));
  return { recording, sending };
}

describe('record, while its disk is full', () => {
  it('continues, reports how many lines are pending, and stores them all once there is space', async () => {
    const folder = testFolder();
    const { recording, sending } = await recordOnFullDisk(folder, []);
    const pending = Number(
      /The disk is full\. (\d+) lines are only in memory, not saved yet\./u.exec(recording.err())?.[1],
    );
    // Every line that was sent is stored or pending, but for those on their way through the pseudo-terminal.
    expect(pending).toBeGreaterThan(0);
    expect(storedNumbers(folder).length + pending).toBeLessThanOrEqual(sending.sent());
    recording.child.kill('SIGUSR2');
    await waitUntil('the end of the refusal', () => recording.err().includes('All lines held in memory are stored.'));
    recording.child.kill('SIGINT');
    const { status, err } = await recording.ended;
    expect(status).toBe(0);
    const lines = storedNumbers(folder);
    expect(err).toContain(`Complete: ${lines.length} lines`);
    expect(lines).toEqual(countTo(lines.length));
  }, 60_000);

  it.each([
    ['the named package', ['--out', 'visit.zip']],
    ['a file in the folder for temporary files', []],
  ])(
    'and stopped: saves the whole capture in %s, does not claim completion, and importing that completes the store',
    async (_where, out) => {
      const folder = testFolder();
      const { recording } = await recordOnFullDisk(folder, out);
      recording.child.kill('SIGINT');
      const { status, out: printed, err } = await recording.ended;
      expect(status).toBe(1);
      expect(printed).toBe('');
      expect(err).not.toContain('Complete');
      const [, rescued, id = '', file = ''] =
        /(\d+) lines of capture (\S+) could not be stored\. The whole capture, with those lines, was saved to (\S+)\. /u.exec(
          err,
        ) ?? [];
      expect(file).toBe(out[1] ?? join(tmpdir(), `pilot-bench-rescue-${id}.zip`));
      onTestFinished(() => {
        if (!out[1]) rmSync(file, { force: true });
      });
      const before = storedNumbers(folder);
      expect(jsonLines((await runCommand(['captures', '--json'], folder)).out)).toMatchObject([
        { id, status: 'interrupted', lines: before.length },
      ]);
      expect((await runCommand(['import', file], folder)).out).toBe(`${file}: ${id} added\n`);
      const after = storedNumbers(folder);
      expect(after).toEqual(countTo(before.length + Number(rescued)));
      expect((await runCommand(['import', file], folder)).out).toContain('is already in the store');
      expect(storedNumbers(folder)).toEqual(after);
    },
    60_000,
  );

  it('and stopped with --out on that disk, too: saves the capture at once in another folder, for this user only, and says where', async () => {
    const folder = testFolder();
    const { recording } = await recordOnFullDisk(folder, ['--out', 'visit.zip'], { PILOT_BENCH_TEST_FULL: folder });
    const stoppedMs = performance.now();
    recording.child.kill('SIGINT');
    const { status, err } = await recording.ended;
    expect(status).toBe(1);
    expect(performance.now() - stoppedMs).toBeLessThan(10_000);
    const [, rescued, file = ''] =
      /(\d+) lines of capture \S+ could not be stored\. .* saved to (\S+)\. /u.exec(err) ?? [];
    onTestFinished(() => rmSync(file, { force: true }));
    expect(file.startsWith(folder)).toBe(false);
    expect(statSync(file).mode & 0o777).toBe(0o600);
    expect(existsSync(join(folder, 'visit.zip'))).toBe(false);
    const before = storedNumbers(folder).length;
    expect((await runCommand(['import', file], folder)).status).toBe(0);
    expect(storedNumbers(folder)).toEqual(countTo(before + Number(rescued)));
  }, 60_000);

  it('and stopped with no space anywhere: reports that, waits whatever is pressed, and completes the capture once there is space', async () => {
    const folder = testFolder();
    const { recording } = await recordOnFullDisk(folder, ['--out', 'visit.zip'], { PILOT_BENCH_TEST_FULL: '/' });
    recording.child.kill('SIGINT');
    await waitUntil('the warning', () => recording.err().includes('Ctrl-C does not end it'));
    const unsaved = Number(
      /(\d+) lines of capture \S+ could be saved neither in the store nor in a file/u.exec(recording.err())?.[1],
    );
    expect(unsaved).toBeGreaterThan(0);
    const before = storedNumbers(folder).length;
    // Signals sooner after the first one are the same press.
    await wait(600);
    for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) {
      recording.child.kill(signal);
      await wait(50);
    }
    await waitUntil('the answer', () => recording.err().split('only in memory. They are being saved').length === 4);
    expect(recording.child.exitCode).toBeNull();
    recording.child.kill('SIGUSR2');
    const { status, err } = await recording.ended;
    expect(status).toBe(0);
    expect(err).toContain(`Complete: ${storedNumbers(folder).length} lines`);
    expect(storedNumbers(folder)).toEqual(countTo(before + unsaved));
  }, 60_000);
});
