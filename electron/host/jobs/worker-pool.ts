import { Worker } from 'node:worker_threads';
import { fault } from '../../../shared/model/faults.ts';
import type { Outcome } from '../../../shared/model/outcome.ts';
import { fail } from '../../../shared/model/outcome.ts';
import { hasReadStore, type Job, type JobAnswer, type JobOrder, type JobResults } from './jobs.ts';

/** Runs each job in a worker thread of its own, which ends with it, so that the ports are not held up. */
export interface WorkerPool {
  /** Fails with what the job fails with, with `cancelled` when `signal` fires (once the thread has done with the store), `job-not-started` when the system has nothing left for a thread, and `internal` when the thread fails. */
  run<J extends Job>(job: J, signal: AbortSignal): Promise<Outcome<JobResults[J['kind']]>>;
  /** Ends the jobs that are running. */
  stop(): Promise<void>;
}

/** A job that is given up is let finish with the store for so long, ms: reading takes a second at most, an import longer. */
const longestInStoreMs = 60_000;

// Two at a time: the ports and the page need a core as well.
const maxThreads = 2;

// Beside this file, with the same extension: .ts as source, .js in the bundle.
const extension = import.meta.url.slice(import.meta.url.lastIndexOf('.'));
const workerFile = new URL(`./job-worker${extension}`, import.meta.url);

export function createWorkerPool(folder: string, onBug: (name: string, error: unknown) => void): WorkerPool {
  const stopping = new AbortController();
  const queue: (() => void)[] = [];
  let running = 0;

  const acquireSlot = async () => {
    if (running >= maxThreads) await new Promise<void>((resolve) => queue.push(resolve));
    running += 1;
  };
  const releaseSlot = () => {
    running -= 1;
    queue.shift()?.();
  };

  return {
    async run<J extends Job>(job: J, signal: AbortSignal) {
      const ended = AbortSignal.any([signal, stopping.signal]);
      await acquireSlot();
      try {
        if (ended.aborted) return fail(fault('cancelled'));
        const answer = await runInThread({ folder, job }, ended, onBug);
        return answer as Outcome<JobResults[J['kind']]>;
      } finally {
        releaseSlot();
      }
    },
    async stop() {
      stopping.abort();
      // The threads have been told to stop; let their callers see the answer.
      while (running > 0) await new Promise((resolve) => setTimeout(resolve, 5));
    },
  };
}

async function runInThread(
  order: JobOrder,
  signal: AbortSignal,
  onBug: (name: string, error: unknown) => void,
): Promise<JobAnswer> {
  const worker = new Worker(workerFile, { workerData: order });
  try {
    return await new Promise<JobAnswer>((resolve) => {
      let isOver = false;
      const failed = (error: unknown) => {
        if (isOver) return;
        isOver = true;
        // The system has no memory or no file descriptors for it.
        if ((error as NodeJS.ErrnoException).code === 'ERR_WORKER_INIT_FAILED')
          return resolve(fail(fault('job-not-started', { reason: 'the system has no resources left for it' })));
        onBug(order.job.kind, error);
        resolve(fail(fault('internal', { what: order.job.kind })));
      };
      let hasRead = false;
      const giveUp = () => resolve(fail(fault('cancelled')));
      worker.on('message', (message: JobAnswer | typeof hasReadStore) => {
        if (message !== hasReadStore) return resolve(message);
        hasRead = true;
        if (signal.aborted) giveUp();
      });
      worker.once('error', failed);
      worker.once('exit', (code) => failed(new Error(`the thread ended with status ${code} and without an answer`)));
      // A thread that is ended inside SQLite, or while that is loaded, takes the whole process with it.
      signal.addEventListener('abort', () => (hasRead ? giveUp() : setTimeout(giveUp, longestInStoreMs).unref()), {
        once: true,
      });
    });
  } finally {
    worker.removeAllListeners('exit');
    await worker.terminate();
  }
}
