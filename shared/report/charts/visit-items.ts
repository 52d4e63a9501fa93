import type { Capture, Trial } from '../../model/capture.ts';
import { sweepsOf, type TimeSpan, trialSpansOf } from '../../model/sweeps.ts';
import type { Setup } from '../../model/setup.ts';
import { isWithin, unjudgedTrials } from '../../model/trials/unjudged-trials.ts';
import { isLit, trialSecondsOf, validTrials } from '../../model/trials/valid-trials.ts';

/** A sweep or a trial on the time line of a visit. */
export interface VisitItem extends TimeSpan {
  kind: 'sweep' | 'trial';
  /** "Sweep 1", "Trial 3": sweeps in the order of time, trials by their number in the record. */
  name: string;
  /** Absent for a trial that is not in the record. */
  number?: number;
  /** What came of it; `running` while it has no end, `not-judged` where a trial was cut short and has no result. */
  verdict: 'counts' | 'discarded' | 'lit' | 'not-lit' | 'not-judged' | 'running';
  /** Why it was discarded. */
  reason?: string;
}

/**
 * The sweeps of a visit, the discarded ones among them, and its trials whose time is known, each in the order of time: those that count,
 * the one that is running, and those that were cut short and wait for a result.
 */
export function visitItems({
  marks,
  trials,
  setup,
  status,
}: Pick<Capture, 'marks'> & {
  trials: readonly Trial[];
  setup: Setup;
  /** While it is being recorded a trial without an end is running. */
  status?: string;
}): VisitItem[] {
  const sweeps = sweepsOf(marks).map(({ isVoid, ...span }, i): VisitItem => {
    const verdict = isVoid ? 'discarded' : span.toS === Infinity ? 'running' : 'counts';
    return { kind: 'sweep', name: `Sweep ${i + 1}`, number: i + 1, verdict, ...span };
  });
  const spans = trialSpansOf(marks);
  const tried = validTrials(trials).flatMap((trial): VisitItem[] => {
    const { elapsedS: fromS, timeToProveS = 0 } = trial;
    if (fromS === undefined) return [];
    const marked = spans.find((span) => isWithin(fromS, span));
    const number = trials.indexOf(trial) + 1;
    const toS = marked && marked.toS < Infinity ? marked.toS : fromS + timeToProveS;
    const verdict = isLit(trial, trialSecondsOf(setup)) ? 'lit' : 'not-lit';
    return [{ kind: 'trial', name: `Trial ${number}`, number, verdict, fromS, toS }];
  });
  const isRecording = status === 'recording';
  const others = [
    ...unjudgedTrials(marks, trials, isRecording).map((span): VisitItem => ({
      kind: 'trial',
      name: 'Interrupted trial',
      verdict: 'not-judged',
      ...span,
    })),
    ...spans
      .filter(({ toS }) => isRecording && toS === Infinity)
      .map((span): VisitItem => ({ kind: 'trial', name: 'Running trial', verdict: 'running', ...span })),
  ];
  return [...sweeps, ...[...tried, ...others].sort((a, b) => a.fromS - b.fromS)];
}
