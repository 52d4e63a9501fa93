/**
 * The capture's own clock as this page can estimate it.
 *
 * A batch whose newest elapsed time is E and that arrives at local time L shows that the capture's clock is at E or later.
 * The batch with the shortest delay bounds it best, so the estimate is the greatest E - L of the last minute. Before the
 * first batch there is no estimate.
 */
export interface CaptureClock {
  /** Newest elapsed time of a batch (s) and when it arrived (s, any monotonic local clock). */
  addBatch(elapsedS: number, localS: number): void;
  /** Elapsed time at `localS`; undefined before the first batch. */
  at(localS: number): number | undefined;
}

/** Older batches are dropped, so that the estimate follows two clocks that drift apart. */
const maxAgeS = 60;

export function createCaptureClock(): CaptureClock {
  let batches: { offset: number; localS: number }[] = [];
  return {
    addBatch(elapsedS, localS) {
      const offset = elapsedS - localS;
      // An older batch with a smaller offset can never be the greatest again.
      batches = batches.filter((batch) => batch.offset > offset && localS - batch.localS < maxAgeS);
      batches.push({ offset, localS });
    },
    at(localS) {
      const best = batches[0];
      return best && best.offset + localS;
    },
  };
}
