import { expect, it } from 'vitest';
import { createJobRunner } from '../../../electron/host/jobs/job-runner.ts';
import type { Job, JobMessage } from '../../../electron/host/jobs/jobs.ts';
import type { ProcessListeners, RunningProcess } from '../../../electron/host/jobs/running-process.ts';
import { ok } from '../../../shared/model/outcome.ts';
import { neverAborted } from '../test-host.ts';

const job: Job = { kind: 'analyze', capture: 'any' };
const answer: JobMessage = { answer: ok({ captures: [], problems: [] }) };

/** A runner whose processes do to each order, in turn, what the list says; the last goes on. */
function runnerThat(
  ...acts: ('answer' | 'answer late' | 'end' | 'throw' | 'wait' | 'fail to start' | 'refuse to start')[]
) {
  const seen = { started: 0, killed: 0, running: 0, most: 0, bugs: [] as unknown[] };
  const ends: (() => void)[] = [];
  const start = (): RunningProcess => {
    if (acts[0] === 'refuse to start') throw new Error('spawn EMFILE');
    seen.started += 1;
    let listeners: ProcessListeners;
    ends.push(() => listeners.onEnd('signal SIGKILL'));
    return {
      send() {
        const act = acts.length > 1 ? acts.shift() : acts[0];
        seen.running += 1;
        seen.most = Math.max(seen.most, seen.running);
        const done = (what: () => void) => setTimeout(() => ((seen.running -= 1), what()), 5);
        if (act === 'answer late') setTimeout(() => ((seen.running -= 1), listeners.onMessage(answer)), 60);
        if (act === 'answer') done(() => listeners.onMessage(answer));
        if (act === 'throw') done(() => listeners.onMessage({ bug: 'a stack' }));
        if (act === 'end') done(() => listeners.onEnd('signal SIGABRT'));
        if (act === 'fail to start') done(() => listeners.onEnd(new Error('spawn EAGAIN')));
      },
      listen: (next) => (listeners = next),
      hold() {},
      async kill() {
        seen.killed += 1;
      },
    };
  };
  const runner = createJobRunner({
    folder: 'none',
    start,
    finishMs: 200,
    onBug: (_name, error) => seen.bugs.push(error),
  });
  return { runner, seen, ends };
}

it('a process that ends by itself is said, and the job is begun once more', async () => {
  const { runner, seen } = runnerThat('end', 'answer');
  expect(await runner.run(job, neverAborted)).toMatchObject({ ok: true });
  expect(seen.bugs).toEqual(['its process ended with signal SIGABRT; it is begun once more']);
  expect(seen.started).toBe(2);
});

it('a job whose process ends twice is a fault that says so', async () => {
  const { runner, seen } = runnerThat('end');
  const outcome = await runner.run(job, neverAborted);
  expect(outcome).toMatchObject({
    ok: false,
    fault: {
      code: 'job-process-ended',
      facts: { reason: 'signal SIGABRT' },
      message: expect.stringMatching(/^The [a-z ]+ was begun twice/u),
    },
  });
  expect(seen.started).toBe(2);
});

it('a process that has answered is kept for the next job', async () => {
  const { runner, seen } = runnerThat('answer');
  for (let k = 0; k < 3; k += 1) await runner.run(job, neverAborted);
  expect(seen).toMatchObject({ started: 1, killed: 0 });
  await runner.stop();
  expect(seen.killed).toBe(1);
});

it('a process that ended while nothing was to do is not used again', async () => {
  const { runner, seen, ends } = runnerThat('answer');
  await runner.run(job, neverAborted);
  ends[0]!();
  expect(await runner.run(job, neverAborted)).toMatchObject({ ok: true });
  expect(seen).toMatchObject({ started: 2, bugs: [] });
});

it('two jobs run at once, the third waits', async () => {
  const { runner, seen } = runnerThat('answer');
  const outcomes = await Promise.all(Array.from({ length: 5 }, () => runner.run(job, neverAborted)));
  expect(outcomes.every((outcome) => outcome.ok)).toBe(true);
  expect(seen).toMatchObject({ started: 2, most: 2 });
});

/** Runs a job and gives it up after 10 ms. */
async function giveUp(runner: ReturnType<typeof runnerThat>['runner'], given: Job): Promise<void> {
  const aborting = new AbortController();
  const outcome = runner.run(given, aborting.signal);
  setTimeout(() => aborting.abort(), 10);
  expect(await outcome).toMatchObject({ ok: false, fault: { code: 'cancelled' } });
}

it('a job that is given up ends its process at once', async () => {
  const { runner, seen } = runnerThat('wait');
  await giveUp(runner, { kind: 'export', capture: 'any', format: 'csv' });
  expect(seen.killed).toBe(1);
});

it('a calculation that is given up and nearly done finishes, and its process takes the next one', async () => {
  const { runner, seen } = runnerThat('answer late', 'answer');
  await giveUp(runner, job);
  // Its caller was told before it was over.
  expect(seen).toMatchObject({ running: 1, killed: 0 });
  expect(await runner.run(job, neverAborted)).toMatchObject({ ok: true });
  expect(seen).toMatchObject({ started: 1, most: 1, killed: 0 });
  await runner.stop();
});

it('a calculation that is given up is ended when it goes on for long, and the next one begins with a new process', async () => {
  const { runner, seen } = runnerThat('wait', 'answer');
  await giveUp(runner, job);
  expect(seen.killed).toBe(0);
  expect(await runner.run(job, neverAborted)).toMatchObject({ ok: true });
  expect(seen).toMatchObject({ started: 2, killed: 1 });
  await runner.stop();
});

it('stopping ends a calculation that was given up before', async () => {
  const { runner, seen } = runnerThat('wait');
  await giveUp(runner, job);
  await runner.stop();
  expect(seen).toMatchObject({ started: 1, killed: 1 });
});

it('stopping gives up what runs and what waits', async () => {
  const { runner, seen } = runnerThat('wait');
  const outcomes = Array.from({ length: 3 }, () => runner.run(job, neverAborted));
  setTimeout(() => void runner.stop(), 10);
  for (const outcome of await Promise.all(outcomes)) expect(outcome).toMatchObject({ fault: { code: 'cancelled' } });
  expect(seen).toMatchObject({ started: 2, killed: 2 });
});

it('an exception in a job is reported as a bug, and its process is not used again', async () => {
  const { runner, seen } = runnerThat('throw', 'answer');
  expect(await runner.run(job, neverAborted)).toMatchObject({ ok: false, fault: { code: 'internal' } });
  expect(seen).toMatchObject({ bugs: ['a stack'], killed: 1 });
  expect(await runner.run(job, neverAborted)).toMatchObject({ ok: true });
  expect(seen.started).toBe(2);
});

it.each(['fail to start', 'refuse to start'] as const)(
  'a system without resources for a process (%s) is a fault in words, not a bug',
  async (act) => {
    const { runner, seen } = runnerThat(act);
    const outcome = await runner.run(job, neverAborted);
    expect(outcome).toMatchObject({ ok: false, fault: { code: 'job-not-started' } });
    expect(seen.bugs).toEqual([]);
  },
);
