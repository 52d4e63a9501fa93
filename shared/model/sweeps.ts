import type { Mark } from './capture.ts';

/** A sweep of a capture. Times are elapsed seconds. */
export interface SweepSpan {
  fromS: number;
  /** Infinity while it has no end. */
  toS: number;
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
  for (const { kind, elapsedS, text } of marks.toSorted((a, b) => a.elapsedS - b.elapsedS)) {
    const last = sweeps.at(-1);
    const isOpen = last?.toS === Infinity;
    if (kind === 'sweep-start' && !isOpen) sweeps.push({ fromS: elapsedS, toS: Infinity, isVoid: false });
    if ((kind === 'sweep-end' || kind === 'sweep-void') && isOpen) last.toS = elapsedS;
    if (kind === 'sweep-void' && last) Object.assign(last, { isVoid: true, reason: text });
  }
  return sweeps;
}
