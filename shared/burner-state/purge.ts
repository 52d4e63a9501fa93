import { purgeSecondsOf } from '../model/trials/valid-trials.ts';
import type { Mark } from '../model/capture.ts';
import type { Setup } from '../model/setup.ts';

/**
 * Elapsed time, in seconds, before which no further light-off trial may begin; undefined when there was no trial.
 * It counts from the marks in the store, so neither a restart nor a second window nor a discarded trial shortens it.
 *
 * @param marks  marks of the capture in the order of their time
 */
export function purgeUntil(marks: readonly Mark[], setup: Setup): number | undefined {
  const last = marks.findLast((mark) => mark.kind === 'trial-end');
  return last && last.elapsedS + purgeSecondsOf(setup);
}

/** Seconds of purge left at `nowS`; 0 when it is over or none is needed. */
export const purgeLeft = (untilS: number | undefined, nowS: number | undefined): number =>
  untilS === undefined || nowS === undefined ? 0 : Math.max(0, untilS - nowS);
