/** What is on record must have been the same for so long before anything is calculated from it, ms. */
const settleMs = 300;

/** Waits until an entry has written all its marks, one after another; no longer than until `signal` fires. */
export const settle = (signal: AbortSignal): Promise<void> =>
  new Promise<void>((resolve) => {
    setTimeout(resolve, settleMs);
    signal.addEventListener('abort', () => resolve(), { once: true });
  });
