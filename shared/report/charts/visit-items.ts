import type { Capture, Trial } from '../../model/capture.ts';
import { sweepsOf, type TimeSpan, trialSpansOf } from '../../model/sweeps.ts';
import type { Setup } from '../../model/setup.ts';
import { isLit, trialSecondsOf, validTrials } from '../../model/valid-trials.ts';

/** A sweep or a trial on the time line of a visit. */
export interface VisitItem extends TimeSpan {
  kind: 'sweep' | 'trial';
  /** "Sweep 1", "Trial 3": sweeps in the order of time, trials by their number in the record. */
  name: string;
  number: number;
  /** What came of it; `running` while it has no end. */
  verdict: 'counts' | 'discarded' | 'lit' | 'not-lit' | 'running';
  /** Why it was discarded. */
  reason?: string;
}

/** The sweeps of a visit, the discarded ones among them, and its trials that count and whose time is known, each in the order of time. */
export function visitItems({
  marks,
  trials,
  setup,
}: Pick<Capture, 'marks'> & { trials: readonly Trial[]; setup: Setup }): VisitItem[] {
  const sweeps = sweepsOf(marks).map(({ isVoid, ...span }, i): VisitItem => {
    const verdict = isVoid ? 'discarded' : span.toS === Infinity ? 'running' : 'counts';
    return { kind: 'sweep', name: `Sweep ${i + 1}`, number: i + 1, verdict, ...span };
  });
  const spans = trialSpansOf(marks);
  const tried = validTrials(trials).flatMap((trial): VisitItem[] => {
    const { elapsedS: fromS, timeToProveS = 0 } = trial;
    if (fromS === undefined) return [];
    const marked = spans.find((span) => fromS >= span.fromS - sameS && fromS <= span.toS);
    const number = trials.indexOf(trial) + 1;
    const toS = marked && marked.toS < Infinity ? marked.toS : fromS + timeToProveS;
    const verdict = isLit(trial, trialSecondsOf(setup)) ? 'lit' : 'not-lit';
    return [{ kind: 'trial', name: `Trial ${number}`, number, verdict, fromS, toS }];
  });
  return [...sweeps, ...tried.sort((a, b) => a.fromS - b.fromS)];
}

/** A trial and the mark of its start are at the same time, but for the rounding of a file. Seconds. */
const sameS = 0.01;
