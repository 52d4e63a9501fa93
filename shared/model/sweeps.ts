import type { Mark } from './capture.ts';

/** A span of a capture, elapsed seconds; `toS` is Infinity while it has no end. */
export interface TimeSpan {
  fromS: number;
  toS: number;
}

/** A sweep of a capture. */
export interface SweepSpan extends TimeSpan {
  /** Discarded: the analysis leaves it out. */
  isVoid: boolean;
  /** Why it was discarded. */
  reason?: string;
}

/**
 * The sweeps of a capture, in the order of time.
 *
 * A sweep runs from a `sweep-start` to the next `sweep-end` or `sweep-void`; a start inside a sweep begins none. A `sweep-void` discards
 * the last sweep that began before it, whether it ends that sweep or follows its end; its text is the reason.
 *
 * @param marks  of any kind, in any order; of marks at the same time, the first in the list is the earlier
 */
export function sweepsOf(marks: readonly Mark[]): SweepSpan[] {
  const sweeps: SweepSpan[] = [];
  for (const { kind, elapsedS, text } of inTimeOrder(marks)) {
    const open = sweeps.at(-1)?.toS === Infinity ? sweeps.at(-1) : undefined;
    if (kind === 'sweep-start' && !open) sweeps.push({ fromS: elapsedS, toS: Infinity, isVoid: false });
    if (kind === 'sweep-end' && open) open.toS = elapsedS;
    if (kind !== 'sweep-void') continue;
    const discarded = sweeps.findLast(({ fromS }) => fromS < elapsedS);
    if (!discarded) continue;
    if (discarded === open) discarded.toS = elapsedS;
    Object.assign(discarded, { isVoid: true, reason: text });
  }
  return sweeps;
}

/** Whether a sweep is going on. */
export const isSweeping = (marks: readonly Mark[]): boolean => sweepsOf(marks).at(-1)?.toS === Infinity;

/** The light-off trials of a capture: from each `trial-start` to the next `trial-end`, in the order of time. Marks as for `sweepsOf`. */
export function trialSpansOf(marks: readonly Mark[]): TimeSpan[] {
  const spans: TimeSpan[] = [];
  for (const { kind, elapsedS } of inTimeOrder(marks)) {
    const open = spans.at(-1)?.toS === Infinity ? spans.at(-1) : undefined;
    if (kind === 'trial-start' && !open) spans.push({ fromS: elapsedS, toS: Infinity });
    if (kind === 'trial-end' && open) open.toS = elapsedS;
  }
  return spans;
}

const inTimeOrder = (marks: readonly Mark[]): Mark[] => marks.toSorted((a, b) => a.elapsedS - b.elapsedS);
