/**
 * Ctrl-C, a polite kill or a closed terminal, as a promise. The first one asks for a proper end; a second one, for those who
 * cannot wait, ends the process at once (what was recorded is in the store).
 */
export function stopRequest(): { requested: Promise<NodeJS.Signals>; wasRequested: () => boolean } {
  const { promise, resolve } = Promise.withResolvers<NodeJS.Signals>();
  let stopped = false;
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const)
    process.on(signal, () => {
      if (stopped) process.exit(130);
      stopped = true;
      resolve(signal);
    });
  return { requested: promise, wasRequested: () => stopped };
}
