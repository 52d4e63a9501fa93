import { join } from 'node:path';
import Database from 'better-sqlite3';
import { expect, it } from 'vitest';
import { storeFile } from '../../electron/host/store/store-file.ts';
import { runCommand, jsonLines, startCommand } from '../helpers/run-command.ts';
import { testFolder } from '../helpers/test-folder.ts';
import { wait, waitUntil } from '../helpers/wait-until.ts';
import { count, plugIn } from '../helpers/pty-meter.ts';

// The whole command on a pseudo-terminal, killed at times spread over a batch; many more kills are in many-kills.test.ts.
const kills = Array.from({ length: 4 }, (_, i) => ({ i, afterMs: 700 + 97 * i }));

it.each(kills)(
  'a kill -9 ($i) loses no line that is older than 250 ms, and the store stays intact',
  async ({ afterMs }) => {
    const folder = testFolder();
    const meter = await plugIn(join(folder, 'gauge'));
    const recording = startCommand(['record', '--instrument', `${meter.path}=Manometer, one number a line`], folder);
    await waitUntil('the recording', () => recording.err().includes('Recording '));
    const sentAt: number[] = [];
    const sending = count(meter, 10, (n) => {
      sentAt[n] = performance.now();
      return `${n}`;
    });
    await wait(afterMs);
    const killedAt = performance.now();
    recording.child.kill('SIGKILL');
    await recording.ended;

    const db = new Database(storeFile(join(folder, 'store')));
    const stored = (
      db.prepare('SELECT CAST(raw AS TEXT) AS raw FROM line ORDER BY seq').all() as { raw: string }[]
    ).map(({ raw }) => Number(raw));
    expect(db.pragma('integrity_check', { simple: true })).toBe('ok');
    db.close();
    // In order and without a gap, from the first that was sent to one that is at most 250 ms older than the kill.
    expect(stored).toEqual(stored.map((_, i) => i + 1));
    const due = sentAt.findLastIndex((at) => at !== undefined && at < killedAt - 250);
    expect(stored.length).toBeGreaterThanOrEqual(due);
    expect(stored.length).toBeLessThanOrEqual(sending.sent());
    expect(jsonLines((await runCommand(['captures', '--json'], folder)).out)).toMatchObject([
      { status: 'interrupted', lines: stored.length },
    ]);
  },
  60_000,
);
