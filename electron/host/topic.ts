/** Something that changes and that feeds wait for. It carries no data: who wakes reads the present state. */
export class Topic {
  #version = 0;
  readonly #waiting = new Set<() => void>();

  get version(): number {
    return this.#version;
  }

  /** Says that it has changed. */
  notify(): void {
    this.#version += 1;
    for (const wake of this.#waiting) wake();
  }

  /** Resolves when it has changed since `version`, or when `signal` fires. */
  async changedSince(version: number, signal: AbortSignal): Promise<void> {
    if (this.#version !== version || signal.aborted) return;
    await new Promise<void>((resolve) => {
      const wake = () => {
        this.#waiting.delete(wake);
        signal.removeEventListener('abort', wake);
        resolve();
      };
      this.#waiting.add(wake);
      signal.addEventListener('abort', wake, { once: true });
    });
  }
}

/** Resolves after `ms`, sooner when `signal` fires. */
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
 * The state that `read` gives: at once, then after each change of `topic`, at most every `leastMs`.
 * A slow reader misses states in between, never the newest.
 */
export async function* watch<T>(
  topic: Topic,
  leastMs: number,
  signal: AbortSignal,
  read: () => T,
): AsyncGenerator<T, void> {
  while (!signal.aborted) {
    const { version } = topic;
    yield read();
    await pause(leastMs, signal);
    await topic.changedSince(version, signal);
  }
}
