/** The request to end a long command. */
export interface StopRequest {
  requested: Promise<void>;
  wasRequested(): boolean;
  /** The process that started this one in another Node is gone: it was killed, and so this one must end, too. */
  wasKilled(): boolean;
}

// A terminal sends Ctrl-C also to the process that started this one, which passes it on: that is not a second Ctrl-C.
const duplicateMs = 500;

/**
 * Ctrl-C, SIGTERM or a closed terminal, as a promise. The first one requests an orderly end; a second one ends the process at once (what
 * was recorded is in the store).
 */
export function stopRequest(): StopRequest {
  const { promise, resolve } = Promise.withResolvers<void>();
  let stoppedMs: number | undefined;
  let killed = false;
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const)
    process.on(signal, () => {
      if (stoppedMs !== undefined && performance.now() - stoppedMs > duplicateMs) process.exit(130);
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
  return { requested: promise, wasRequested: () => stoppedMs !== undefined || killed, wasKilled: () => killed };
}
