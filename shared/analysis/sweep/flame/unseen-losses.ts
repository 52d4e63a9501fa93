import type { StateSpan } from '../../../burner-state/track.ts';
import type { Series } from '../series/series.ts';
import type { TimeSpan } from '../../../model/sweeps.ts';
import { burns, isUnseen } from './gas-off.ts';
import { settleS } from './while-burning.ts';

/** A frozen meter that goes on and the loss of the flame that it then shows lie no farther apart than this, seconds. */
const apartS = 2;

/**
 * Times at which the signal is dark after a loss of the flame that its meter did not show, silent or frozen as it was: nobody knows at
 * which pressure the flame went out, so that they say nothing of any. From the first that is dark until, after gas was shut, a flame burns
 * again and settles.
 *
 * @param spans   what the burner did, seconds
 * @param signal  all readings of the sweep
 * @param frozen  stretches in which the signal meter repeated itself, seconds
 */
export function unseenLosses(spans: readonly StateSpan[], signal: Series, frozen: readonly TimeSpan[]): TimeSpan[] {
  const showsNothing = ({ from_s, to_s }: StateSpan) =>
    new Set(signal.value.filter((_, i) => signal.time[i]! > from_s && signal.time[i]! < to_s)).size <= 1;
  return spans.flatMap((span, i) => {
    if (span.flame !== 'lost') return [];
    const lastBurning = spans.slice(0, i).findLastIndex(burns);
    const between = spans.slice(lastBurning + 1, i);
    // A loss that was seen goes on behind a silence.
    if (lastBurning < 0 || between.some(({ flame }) => flame === 'lost')) return [];
    const isOut = between.some((each) => isUnseen(each, 'flame') && showsNothing(each));
    const wasFrozen = frozen.find(({ fromS, toS }) => fromS < span.from_s && Math.abs(toS - span.from_s) < apartS);
    if (!isOut && !wasFrozen) return [];
    // A flame that comes back by itself, or a signal that comes up its shoulder again, shows where.
    const later = spans.slice(i + 1);
    const lit = later.find(burns);
    const shut = later.find(({ gas }) => gas === 'shut' || gas === 'closing');
    if (lit && !(shut && shut.from_s < lit.from_s)) return [];
    return [{ fromS: Math.min(span.from_s, wasFrozen?.toS ?? Infinity), toS: (lit?.from_s ?? Infinity) + settleS }];
  });
}
