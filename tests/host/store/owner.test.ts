import { spawn } from 'node:child_process';
import { openSync, closeSync, readFileSync } from 'node:fs';
import { describe, expect, it, onTestFinished } from 'vitest';
import { createOwner, isAlive } from '../../../electron/host/store/owner.ts';
import { waitUntil } from '../../helpers/wait-until.ts';

const onLinux = process.platform === 'linux';

describe('the owner of a recording', () => {
  it('is alive while its process runs, and not once another has its number', () => {
    const { pid, process: mark } = createOwner();
    expect(isAlive(pid, mark, 0, 1e12)).toBe(true);
    expect(isAlive(pid, onLinux ? `${mark}0` : '', 0, 1e12)).toBe(false);
  });

  it.runIf(onLinux)('is dead when it is a zombie: it has ended, but its parent has not asked how', async () => {
    // The shell ends nothing of its own: it becomes another program, which does not ask for the end of its child.
    const parent = spawn('sh', ['-c', 'sleep 0.2 & echo $!; exec sleep 30'], { stdio: ['ignore', 'pipe', 'ignore'] });
    onTestFinished(() => void parent.kill('SIGKILL'));
    const pid = await new Promise<number>((resolve) => {
      parent.stdout.once('data', (text: Buffer) => resolve(Number(text)));
    });
    const stat = () => readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ')[1]!.split(' ');
    const boot = readFileSync('/proc/sys/kernel/random/boot_id', 'utf8').trim();
    const mark = `${boot} ${stat()[19]}`;
    expect(isAlive(pid, mark, 0, 0)).toBe(true);
    await waitUntil('the zombie', () => stat()[0] === 'Z');
    expect(isAlive(pid, mark, 0, 0)).toBe(false);
    expect(isAlive(pid, '', 0, 0)).toBe(false);
  });

  it.runIf(onLinux)('is not called dead by a process that cannot open another file, while its heart beats', () => {
    const { pid, process: mark } = createOwner();
    const files: number[] = [];
    try {
      for (;;) files.push(openSync('/dev/null', 'r'));
    } catch {
      expect(isAlive(pid, mark, 1000, 2000)).toBe(true);
      expect(isAlive(pid, mark, 1000, 60_000)).toBe(false);
    } finally {
      for (const file of files) closeSync(file);
    }
  });
});
