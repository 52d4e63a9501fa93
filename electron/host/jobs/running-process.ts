import type { JobMessage, JobOrder } from './jobs.ts';

/** A running process that carries out jobs, one at a time. */
export interface RunningProcess {
  send(order: JobOrder): void;
  /** From now on these get its messages and its end: the reason in words, or the error of a process that could not start. */
  listen(listeners: ProcessListeners): void;
  /** Whether this process keeps the host running. */
  hold(isHeld: boolean): void;
  /** Ends it at once, whatever it does: SQLite undoes an unfinished transaction. Settles when it has ended. */
  kill(): Promise<void>;
}

export interface ProcessListeners {
  onMessage(message: JobMessage): void;
  onEnd(reason: string | Error): void;
}

/** Starts a module with options for its Node. Throws, or the process ends with an error, where the system has no resources for one. */
export type StartProcess = (module: string, execArgv: string[]) => RunningProcess;

/** The part of a process that does not depend on its kind: who listens, and that it has ended. */
export function createListening() {
  let listeners: ProcessListeners | undefined;
  let endReason: string | Error | undefined;
  const { promise: ended, resolve } = Promise.withResolvers<void>();
  return {
    ended,
    message: (message: JobMessage) => listeners?.onMessage(message),
    /** Only its first end counts: a process that cannot start may be reported twice. */
    end(reason: string | Error) {
      if (endReason !== undefined) return;
      endReason = reason;
      resolve();
      listeners?.onEnd(reason);
    },
    listen(next: ProcessListeners) {
      listeners = next;
      if (endReason !== undefined) next.onEnd(endReason);
    },
  };
}
