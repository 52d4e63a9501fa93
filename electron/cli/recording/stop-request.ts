import { printMessage } from '../output.ts';

/** The request to end a long command. */
export interface StopRequest {
  requested: Promise<void>;
  wasRequested(): boolean;
  /** The process that started this one in another Node is gone: it was killed, and so this one must end, too. */
  wasKilled(): boolean;
  /** From now on a second request ends the process only while `reason` gives none; the sentence that it gives is printed. */
  holdWhile(reason: () => string | undefined): void;
}

// A terminal sends Ctrl-C also to the process that started this one, which passes it on: that is not a second Ctrl-C.
const duplicateMs = 500;

/**
 * Ctrl-C, SIGTERM or a closed terminal, as a promise. The first one requests an orderly end; a second one ends the process at once, but
 * not while lines would be lost (`holdWhile`).
 */
export function stopRequest(): StopRequest {
  const { promise, resolve } = Promise.withResolvers<void>();
  let stoppedMs: number | undefined;
  let killed = false;
  let holdReason = (): string | undefined => undefined;
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const)
    process.on(signal, () => {
      if (stoppedMs !== undefined && performance.now() - stoppedMs > duplicateMs) {
        const reason = holdReason();
        if (reason === undefined) process.exit(130);
        printMessage(reason);
      }
      stoppedMs ??= performance.now();
      resolve();
    });
  if (process.send) {
    const gone = () => {
      killed = true;
      resolve();
    };
    process.once('disconnect', gone);
    process.channel?.unref(); // it must not keep the process running
    if (!process.connected) gone(); // killed while this process was starting
  }
  return {
    requested: promise,
    wasRequested: () => stoppedMs !== undefined || killed,
    wasKilled: () => killed,
    holdWhile: (reason) => void (holdReason = reason),
  };
}
