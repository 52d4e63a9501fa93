import { Worker } from 'node:worker_threads';

/** A task for a worker, and its result. */
export interface Job {
  index: number;
  task: object;
}
export interface Done<R> {
  index: number;
  result: R;
}

/** Two: every machine of today has at least as many, so that figures of different machines are comparable. */
const workerCount = 2;

/**
 * Runs `run(task)` of a module for every task in worker threads. Results come in the order of the tasks, whoever did them.
 *
 * @param module  a module that exports `run(task)`, a pure function of the task
 */
export async function inParallel<R>(
  module: URL,
  tasks: readonly object[],
  onDone: (count: number, of: number) => void,
): Promise<R[]> {
  const results: R[] = Array.from({ length: tasks.length });
  let next = 0;
  let done = 0;
  const work = () =>
    new Promise<void>((resolve, reject) => {
      const worker = new Worker(new URL('worker.ts', import.meta.url), { workerData: module.href });
      const sendNext = () => {
        if (next >= tasks.length) return void worker.terminate();
        // oxlint-disable-next-line unicorn/require-post-message-target-origin -- a thread's port, not a window
        worker.postMessage({ index: next, task: tasks[next]! } satisfies Job);
        next += 1;
      };
      worker.on('message', (answer: Done<R>) => {
        results[answer.index] = answer.result;
        done += 1;
        onDone(done, tasks.length);
        sendNext();
      });
      worker.on('error', reject);
      worker.on('exit', () => resolve());
      sendNext();
    });
  await Promise.all(Array.from({ length: Math.min(workerCount, tasks.length) }, work));
  return results;
}
