import { median } from '../../../numerics/descriptive.ts';
import { exactEstimate } from '../../curve/estimate.ts';
import type { Pairs } from '../../sweep/series/pairs.ts';
import { intervalStatus, type SignalEnd, type SignalInterval } from './signal-interval.ts';

/**
 * The same interval, but an end beyond which half of the readings themselves are still good was not reached: a curve that does not follow
 * the last of them, or falls with a gust at the last pressure that was tested, crosses the required signal where no reading stays below it.
 * It is then open at the last tested pressure.
 *
 * @param pairs  readings while the flame burned, lag removed, in the sweep's units
 * @param tested  lowest and highest tested pressure
 */
export function withReachedEnds(
  interval: SignalInterval,
  pairs: Pick<Pairs, 'pressure' | 'signal'>,
  tested: readonly [number, number],
): SignalInterval {
  const reached = (end: SignalEnd | undefined, by: 1 | -1, last: number): SignalEnd | undefined => {
    // A loss is no crossing: nothing burned beyond it.
    if (!end?.bounded || end.slope === 0) return end;
    const beyond = pairs.signal.filter((_, i) => (pairs.pressure[i]! - end.value) * by > 0);
    if (beyond.length === 0 || median(beyond) < interval.required.value) return end;
    return { ...exactEstimate(last), bounded: false, flameLost: false, slope: 0 };
  };
  const low = reached(interval.low, -1, tested[0]);
  const high = reached(interval.high, 1, tested[1]);
  return { ...interval, ...(low && high && { low, high }), status: intervalStatus(low, high) };
}
