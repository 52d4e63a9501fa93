import type { Mark, Trial } from '../capture.ts';
import { type TimeSpan, trialSpansOf } from '../sweeps.ts';

/** Texts of the marks that close a trial of which nobody has entered a result. */
export const openEnds = {
  interrupted: 'recording was interrupted',
  finished: 'recording was finished',
  noResult: 'no result was entered',
} as const;

/** The first reading with gas, from which an entry counts, may come so long before the mark that begins its trial, seconds. */
export const trialLeadS = 3;
/** Times of marks and entries are the same but for the rounding of a file, seconds. */
export const sameS = 0.01;

/** Whether a trial of the record, at this time, is the one of these marks. */
export const isWithin = (elapsedS: number, { fromS, toS }: TimeSpan): boolean =>
  elapsedS >= fromS - trialLeadS && elapsedS <= toS + sameS;

/**
 * The light-off trials that began and were cut short before anyone or the meters had judged them, and that no entry of the record is
 * about: gas came on, and what became of it is to be entered or discarded.
 *
 * @param isRecording  a trial without an end is running now; else it was cut short
 */
export function unjudgedTrials(marks: readonly Mark[], trials: readonly Trial[], isRecording = false): TimeSpan[] {
  const ends = new Set<string>(Object.values(openEnds));
  const lastS = marks.reduce((last, { elapsedS }) => Math.max(last, elapsedS), 0);
  const isOpen = ({ toS }: TimeSpan): boolean =>
    toS === Infinity
      ? !isRecording
      : marks.some(({ kind, elapsedS, text }) => kind === 'trial-end' && elapsedS === toS && ends.has(text));
  const spans = trialSpansOf(marks);
  // Gas that ends a trial without a result begins the next one: its entry is that of the next.
  const judged = new Set(
    trials.map(({ elapsedS }) => elapsedS !== undefined && spans.findLast((span) => isWithin(elapsedS, span))),
  );
  return spans
    .filter(isOpen)
    .filter((span) => !judged.has(span))
    .map(({ fromS, toS }) => ({ fromS, toS: toS === Infinity ? lastS : toS }));
}
