import { leastProbability } from '../../../burner-state/chain/label.ts';
import type { StateSpan } from '../../../burner-state/track.ts';
import type { FrozenStretch } from '../meter-faults/frozen.ts';
import { burns } from './gas-off.ts';

/** A frozen meter that goes on and the loss of the flame that it then shows lie no farther apart than this, seconds. */
const apartS = 2;
/** Seconds after a flame burns again in which its signal still rises: the longest lag of detector and meter (common practice: 3 s). */
const settleS = 3;

/**
 * Times at which the signal is dark after a loss of the flame that no meter saw, since one of them was silent or frozen: nobody knows at
 * which pressure the flame went out, so that they say nothing of any. From the first that is dark until a flame burns again and settles.
 *
 * @param spans   what the burner did, seconds
 * @param frozen  stretches in which the signal meter repeated itself, seconds
 */
export function unseenLosses(
  spans: readonly StateSpan[],
  frozen: readonly FrozenStretch[],
): { fromS: number; toS: number }[] {
  return spans.flatMap((span, i) => {
    if (span.flame !== 'lost' || spans[i - 1]?.flame === 'lost') return [];
    const before = spans.slice(0, i);
    const lastBurning = before.findLastIndex(burns);
    // What is unknown though the readings leave no doubt is so for a meter in trouble.
    const isOut = before
      .slice(lastBurning + 1)
      .some(({ flame, probability }) => flame === 'unknown' && probability >= leastProbability);
    const wasFrozen = frozen.find(({ fromS, toS }) => fromS < span.from_s && Math.abs(toS - span.from_s) < apartS);
    if (lastBurning < 0 || (!isOut && !wasFrozen)) return [];
    const lit = spans.find((each, k) => k > i && burns(each));
    return [{ fromS: Math.min(span.from_s, wasFrozen?.toS ?? Infinity), toS: (lit?.from_s ?? Infinity) + settleS }];
  });
}
