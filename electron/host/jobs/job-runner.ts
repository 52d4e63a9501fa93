import { getHeapStatistics } from 'node:v8';
import { fileURLToPath } from 'node:url';
import { fault } from '../../../shared/model/faults.ts';
import type { Outcome } from '../../../shared/model/outcome.ts';
import { fail } from '../../../shared/model/outcome.ts';
import type { Job, JobAnswer, JobEnd, JobOrder, JobProgress, JobResults } from './jobs.ts';
import type { RunningProcess, StartProcess } from './running-process.ts';

/** Runs jobs in processes of their own, so that they neither hold up the ports nor take a recording with them when one of them fails. */
export interface JobRunner {
  /**
   * A job whose process ends by itself is begun once more.
   * Fails with what the job fails with, with `cancelled` as soon as `signal` fires (its process is ended then, but for a calculation that
   * is over in a moment), `job-not-started` when the system has nothing left for a process, `job-process-ended` when it ended twice, and
   * `internal` when the job throws.
   */
  run<J extends Job>(
    job: J,
    signal: AbortSignal,
    onProgress?: (progress: JobProgress) => void,
  ): Promise<Outcome<JobResults[J['kind']]>>;
  /** Starts a process for the first job, which takes as long as a sweep to analyze. */
  warm(): void;
  /** Ends the jobs that are running, and the processes. */
  stop(): Promise<void>;
}

export interface JobRunnerOptions {
  /** Folder of the store. */
  folder: string;
  start: StartProcess;
  /** How many jobs run at a time; the others wait. Two unless given: the ports and the page need a core as well. */
  maxProcesses?: number;
  /** How long a calculation that is given up may go on, ms; see `usualFinishMs`. */
  finishMs?: number;
  onBug: (name: string, error: unknown) => void;
}

/**
 * A calculation that nobody waits for anymore may finish within this time, ms. A sweep takes a second; ending its process instead costs
 * more than that, since the next one starts cold, and a visit in progress gives up one calculation after another.
 */
const usualFinishMs = 1500;
/** Jobs that only read and mostly are over soon. */
const isCalculation = ({ kind }: Job) => kind === 'analyze' || kind === 'advise' || kind === 'compare';

/** Memory for the values of one process, MB: enough for two million readings, and not all that a laptop has. */
const heapMB = Math.min(2048, Math.floor(getHeapStatistics().heap_size_limit / 2 ** 20));

// Beside this file, with the same extension: .ts as source, .js in the bundle.
const extension = import.meta.url.slice(import.meta.url.lastIndexOf('.'));
const module = fileURLToPath(new URL(`./job-process${extension}`, import.meta.url));

export function createJobRunner({
  folder,
  start,
  maxProcesses = 2,
  finishMs = usualFinishMs,
  onBug,
}: JobRunnerOptions): JobRunner {
  const stopping = new AbortController();
  // Processes stay for the next job: a cold one takes as long to start as a sweep to analyze.
  const idle = new Set<RunningProcess>();
  /** Those that finish a calculation that was given up. */
  const finishing = new Set<Promise<void>>();
  const queue: (() => void)[] = [];
  let running = 0;

  const acquireSlot = async () => {
    if (running >= maxProcesses) await new Promise<void>((resolve) => queue.push(resolve));
    running += 1;
  };
  const releaseSlot = () => {
    running -= 1;
    queue.shift()?.();
  };

  const takeIdle = () => {
    const [process] = idle;
    if (process) idle.delete(process);
    return process;
  };
  const keepIdle = (process: RunningProcess) => {
    process.hold(false);
    idle.add(process);
    process.listen({ onMessage() {}, onEnd: () => void idle.delete(process) });
  };

  /** Keeps the process once it has answered, and ends it when it takes longer than it may, or the host stops. */
  const letFinish = (process: RunningProcess) => {
    process.hold(false);
    const isAnswered = new Promise<boolean>((resolve) => {
      process.listen({
        onMessage: (message) => void ('progress' in message || resolve('answer' in message)),
        onEnd: () => resolve(false),
      });
      AbortSignal.any([stopping.signal, AbortSignal.timeout(finishMs)]).addEventListener(
        'abort',
        () => resolve(false),
        {
          once: true,
        },
      );
    });
    const finished = isAnswered
      .then((answered) => (answered ? keepIdle(process) : process.kill()))
      .finally(() => finishing.delete(finished));
    finishing.add(finished);
  };

  /** An idle process, one that will be idle in a moment, or a new one; undefined once `signal` has fired. */
  const takeProcess = async (signal: AbortSignal) => {
    while (idle.size === 0 && finishing.size > 0 && !signal.aborted) await Promise.race(finishing);
    return signal.aborted ? undefined : (takeIdle() ?? startOne());
  };

  const startOne = () => start(module, [`--max-old-space-size=${heapMB}`]);

  /** One attempt, in a process that is kept when it has answered. */
  async function attempt(order: JobOrder, signal: AbortSignal, onProgress?: OnProgress): Promise<Ending> {
    let process: RunningProcess | undefined;
    try {
      process = await takeProcess(signal);
    } catch (error) {
      return { notStarted: error as Error };
    }
    if (!process) return 'cancelled';
    process.hold(true);
    const ending = await new Promise<Ending>((resolve) => {
      process.listen({
        onMessage: (message) => ('progress' in message ? onProgress?.(message.progress) : resolve(message)),
        onEnd: (reason) => resolve(reason instanceof Error ? { notStarted: reason } : { endedWith: reason }),
      });
      signal.addEventListener('abort', () => resolve('cancelled'), { once: true });
      process.send(order);
    });
    if (ending !== 'cancelled' && 'answer' in ending) keepIdle(process);
    else if (ending === 'cancelled' && isCalculation(order.job) && !stopping.signal.aborted) letFinish(process);
    else await process.kill();
    return ending;
  }

  async function carryOut(order: JobOrder, signal: AbortSignal, onProgress?: OnProgress): Promise<JobAnswer> {
    for (let attempts = 1; ; attempts += 1) {
      if (signal.aborted) return fail(fault('cancelled'));
      const ending = await attempt(order, signal, onProgress);
      if (ending === 'cancelled') return fail(fault('cancelled'));
      if ('answer' in ending) return ending.answer;
      if ('notStarted' in ending)
        return fail(fault('job-not-started', { what: jobNames[order.job.kind], reason: notStartedReason }));
      if ('bug' in ending) {
        onBug(order.job.kind, ending.bug);
        return fail(fault('internal', { what: order.job.kind }));
      }
      if (attempts > 1)
        return fail(fault('job-process-ended', { what: jobNames[order.job.kind], reason: ending.endedWith }));
      onBug(order.job.kind, `its process ended with ${ending.endedWith}; it is begun once more`);
    }
  }

  return {
    async run<J extends Job>(job: J, signal: AbortSignal, onProgress?: OnProgress) {
      await acquireSlot();
      try {
        const answer = await carryOut({ folder, job }, AbortSignal.any([signal, stopping.signal]), onProgress);
        return answer as Outcome<JobResults[J['kind']]>;
      } finally {
        releaseSlot();
      }
    },
    warm() {
      try {
        keepIdle(startOne());
      } catch {
        // The first job tries again, and says why there is none.
      }
    },
    async stop() {
      stopping.abort();
      // Their callers see the answer.
      while (running > 0) await new Promise((resolve) => setTimeout(resolve, 5));
      await Promise.all([...finishing, ...[...idle].map((process) => process.kill())]);
    },
  };
}

/** How an attempt ended. */
type Ending = 'cancelled' | JobEnd | { endedWith: string } | { notStarted: Error };

type OnProgress = (progress: JobProgress) => void;

const notStartedReason = 'the system has no resources left for it';

/** Each job as a message names it, at the beginning of a sentence. */
const jobNames: Record<Job['kind'], string> = {
  analyze: 'The calculation of the window',
  advise: 'The calculation of the next trial',
  compare: 'The comparison',
  report: 'The report',
  export: 'The export',
  import: 'The import',
  list: 'Reading the list of captures',
  preview: 'Reading the file',
};
