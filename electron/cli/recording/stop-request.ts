/** How a long command is asked to end. */
export interface StopRequest {
  requested: Promise<void>;
  wasRequested(): boolean;
  /** Whoever started this process in another Node is gone: it was killed, and so is this meant to be. */
  wasKilled(): boolean;
}

// A terminal sends Ctrl-C to the process that started this one, too, which hands it on: that is no second Ctrl-C.
const sameMs = 500;

/**
 * Ctrl-C, a polite kill or a closed terminal, as a promise. The first one asks for a proper end; a second one, for those who
 * cannot wait, ends the process at once (what was recorded is in the store).
 */
export function stopRequest(): StopRequest {
  const { promise, resolve } = Promise.withResolvers<void>();
  let stoppedMs: number | undefined;
  let killed = false;
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const)
    process.on(signal, () => {
      if (stoppedMs !== undefined && performance.now() - stoppedMs > sameMs) process.exit(130);
      stoppedMs ??= performance.now();
      resolve();
    });
  if (process.send) {
    const gone = () => {
      killed = true;
      resolve();
    };
    process.once('disconnect', gone);
    process.channel?.unref(); // it must not keep the process
    if (!process.connected) gone(); // killed while this process was starting
  }
  return { requested: promise, wasRequested: () => stoppedMs !== undefined || killed, wasKilled: () => killed };
}
