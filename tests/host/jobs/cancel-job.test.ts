import { readdirSync, readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { forkProcess } from '../../../electron/host/jobs/fork-process.ts';
import { createJobRunner } from '../../../electron/host/jobs/job-runner.ts';
import { testFolder } from '../../helpers/test-folder.ts';
import { openTestHost } from '../test-host.ts';

async function closedStore(): Promise<{ folder: string; capture: string }> {
  const folder = testFolder();
  const { host, record, send } = await openTestHost(folder);
  const capture = await record();
  for (let k = 0; k < 200; k += 1) send(`2.${100 + k}\r\n`);
  await host.close();
  return { folder, capture };
}

it('a job that is given up at any moment of its start leaves store and host sound', { timeout: 60_000 }, async () => {
  const { folder, capture } = await closedStore();
  const bugs: unknown[] = [];
  const runner = createJobRunner({ folder, start: forkProcess, onBug: (_name, error) => bugs.push(error) });
  for (let ms = 0; ms <= 400; ms += 25) {
    const giveUp = new AbortController();
    setTimeout(() => giveUp.abort(), ms);
    await runner.run({ kind: 'analyze', capture, setup: {} }, giveUp.signal);
  }
  const outcome = await runner.run({ kind: 'export', capture, format: 'csv' }, new AbortController().signal);
  expect(outcome).toMatchObject({ ok: true });
  await runner.stop();
  expect(bugs).toEqual([]);
});

// Processes of the system are listed in /proc on Linux only.
it.skipIf(process.platform !== 'linux')('a job process that is killed costs neither the job nor the host', async () => {
  const { folder, capture } = await closedStore();
  const bugs: unknown[] = [];
  const runner = createJobRunner({ folder, start: forkProcess, onBug: (_name, error) => bugs.push(error) });
  const outcome = runner.run({ kind: 'export', capture, format: 'csv' }, new AbortController().signal);
  const killed = await killOneChild();
  expect(await outcome).toMatchObject({ ok: true });
  expect(bugs).toHaveLength(killed);
  await runner.stop();
});

/** Kills the job process of this process as soon as there is one. */
async function killOneChild(): Promise<number> {
  for (;;) {
    for (const pid of readdirSync('/proc').filter((name) => /^\d+$/.test(name))) {
      try {
        const isChild = readFileSync(`/proc/${pid}/status`, 'utf8').includes(`\nPPid:\t${process.pid}\n`);
        const isJob = readFileSync(`/proc/${pid}/cmdline`, 'utf8').includes('job-process');
        if (!isChild || !isJob) continue;
        process.kill(Number(pid), 'SIGKILL');
        return 1;
      } catch {
        // Ended meanwhile.
      }
    }
    await new Promise((resolve) => setTimeout(resolve, 2));
  }
}
