/** Something that changes and that feeds wait for. It carries no data: a feed that wakes reads the present state. */
export class Topic {
  #version = 0;
  readonly #listeners = new Set<() => void>();

  get version(): number {
    return this.#version;
  }

  /** Wakes every feed that waits for a change. */
  notify(): void {
    this.#version += 1;
    for (const wake of this.#listeners) wake();
  }

  /** Resolves when it has changed since `version`, or when `signal` fires. */
  async changedSince(version: number, signal: AbortSignal): Promise<void> {
    if (this.#version !== version || signal.aborted) return;
    await new Promise<void>((resolve) => {
      const wake = () => {
        this.#listeners.delete(wake);
        signal.removeEventListener('abort', wake);
        resolve();
      };
      this.#listeners.add(wake);
      signal.addEventListener('abort', wake, { once: true });
    });
  }
}

/** Resolves after `ms` milliseconds, or sooner when `signal` fires. */
export async function pause(ms: number, signal: AbortSignal): Promise<void> {
  if (signal.aborted) return;
  await new Promise<void>((resolve) => {
    const end = () => {
      clearTimeout(timer);
      signal.removeEventListener('abort', end);
      resolve();
    };
    const timer = setTimeout(end, ms);
    signal.addEventListener('abort', end, { once: true });
  });
}

/**
 * The state that `read` gives: at once, then after each change of `topic`, at intervals of at least `minIntervalMs`.
 * A slow consumer misses states in between, never the latest.
 */
export async function* watch<T>(
  topic: Topic,
  minIntervalMs: number,
  signal: AbortSignal,
  read: () => T,
): AsyncGenerator<T, void> {
  while (!signal.aborted) {
    const { version } = topic;
    yield read();
    await pause(minIntervalMs, signal);
    await topic.changedSince(version, signal);
  }
}
