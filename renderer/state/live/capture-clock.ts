/**
 * The capture's own clock as this window can tell it.
 *
 * A batch with the newest elapsed time E that arrives at local time L says that the capture's clock stands at E or later; the
 * batch that travelled fastest says it best, so the greatest E - L of the last minute is kept. Before the first batch
 * there is no answer.
 */
export interface CaptureClock {
  /** Newest elapsed time of a batch (s) and when it arrived (s, any monotonic local clock). */
  hear(elapsedS: number, localS: number): void;
  /** Elapsed time at `localS`; undefined before anything was heard. */
  at(localS: number): number | undefined;
}

/** Batches older than this are forgotten, so that two clocks that drift apart are followed. */
const memoryS = 60;

export function createCaptureClock(): CaptureClock {
  let heard: { offset: number; localS: number }[] = [];
  return {
    hear(elapsedS, localS) {
      const offset = elapsedS - localS;
      // What is slower and older than this one can never be the greatest again.
      heard = heard.filter((one) => one.offset > offset && localS - one.localS < memoryS);
      heard.push({ offset, localS });
    },
    at(localS) {
      const best = heard[0];
      return best && best.offset + localS;
    },
  };
}
