// One worker thread: imports the module it is started with and runs its tasks, one after the other.
import { parentPort, workerData } from 'node:worker_threads';
import type { Done, Job } from './in-parallel.ts';

const { run } = (await import(workerData as string)) as { run: (task: object) => unknown };
parentPort!.on('message', ({ index, task }: Job) => {
  // oxlint-disable-next-line unicorn/require-post-message-target-origin -- a thread's port, not a window
  parentPort!.postMessage({ index, result: run(task) } satisfies Done<unknown>);
});
