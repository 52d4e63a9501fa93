import { timeOf } from '../simulated.ts';
import type { EitherWay, StateName } from '../types.ts';

/** Adds a span of steps in which each of the words is right. */
export type Add = (of: StateName, from: number, to: number, words: string[], live?: true) => void;
/** Adds each run of steps, of all or of some, in which a condition is met. */
export type Where = (
  of: StateName,
  words: string[],
  met: (i: number) => boolean,
  part?: { from?: number; to?: number; live?: true },
) => void;

/** Spans of steps that are added one by one and come out in seconds; `n` steps there are. */
export function collectSpans(n: number): { spans: EitherWay[]; add: Add; where: Where } {
  const spans: EitherWay[] = [];
  const add: Add = (of, from, to, words, live) => {
    const [start, end] = [Math.max(0, from), Math.min(n, to)];
    if (end > start)
      spans.push({ of, from_s: timeOf(start), to_s: timeOf(end), words: [...new Set(words)], ...(live && { live }) });
  };
  const where: Where = (of, words, met, { from = 0, to = n, live } = {}) => {
    let start = -1;
    for (let i = Math.max(0, from); i <= Math.min(n, to); i += 1) {
      const holds = i < Math.min(n, to) && met(i);
      if (holds && start < 0) start = i;
      if (!holds && start >= 0) {
        add(of, start, i, words, live);
        start = -1;
      }
    }
  };
  return { spans, add, where };
}
