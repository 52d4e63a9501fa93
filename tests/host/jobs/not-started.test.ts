import { expect, it, vi } from 'vitest';
import { createWorkerPool } from '../../../electron/host/jobs/worker-pool.ts';

// A thread for which the system has no memory or no file descriptors, as Node reports it.
vi.mock('node:worker_threads', async () => {
  const { EventEmitter } = await import('node:events');
  class Worker extends EventEmitter {
    constructor() {
      super();
      const error = Object.assign(new Error('no resources'), { code: 'ERR_WORKER_INIT_FAILED' });
      setImmediate(() => this.emit('error', error));
    }
    terminate = () => Promise.resolve(1);
  }
  return { Worker };
});

it('a job for which the system has no thread is a fault in words, not a bug', async () => {
  const bugs: unknown[] = [];
  const pool = createWorkerPool('no folder', (_name, error) => bugs.push(error));
  const outcome = await pool.run({ kind: 'analyze', capture: 'none' }, new AbortController().signal);
  expect(outcome).toMatchObject({ ok: false, fault: { code: 'job-not-started' } });
  expect(bugs).toEqual([]);
});
