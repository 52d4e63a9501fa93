/** Waits until `condition` gives something truthy, and gives that; throws, naming `what`, after `limitMs`. */
export async function waitUntil<T>(
  what: string,
  condition: () => T | undefined | false | Promise<T | undefined | false>,
  limitMs = 15_000,
): Promise<T> {
  const endMs = performance.now() + limitMs;
  for (;;) {
    const value = await condition();
    if (value) return value;
    if (performance.now() > endMs) throw new Error(`waited too long for ${what}`);
    await new Promise((resolve) => {
      setTimeout(resolve, 20);
    });
  }
}

/** Waits `ms` milliseconds. */
export const wait = (ms: number): Promise<void> =>
  new Promise((resolve) => {
    setTimeout(resolve, ms);
  });
