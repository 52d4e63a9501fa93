import { median } from '../../../numerics/descriptive.ts';
import { exactEstimate } from '../../curve/estimate.ts';
import type { Pairs } from '../../sweep/series/pairs.ts';
import { oneSettingShare } from '../losses/middle-losses.ts';
import { intervalStatus, lossLimits, type SignalEnd, type SignalInterval } from './signal-interval.ts';

/**
 * The same interval, but an end beyond which half of the readings themselves are still good was not reached: a curve that does not follow
 * the last of them, or falls with a gust at the last pressure that was tested, crosses the required signal where no reading stays below it.
 * It is then open at the last tested pressure.
 *
 * @param pairs  readings while the flame burned, lag removed, in the sweep's units
 * @param tested  lowest and highest tested pressure
 * @param lossesAtEnds  where the flame was lost, in the sweep's unit
 * @param mayBeLost  whether the flame may have been lost at all
 */
export function withReachedEnds(
  interval: SignalInterval,
  pairs: Pick<Pairs, 'pressure' | 'signal'>,
  tested: readonly [number, number],
  lossesAtEnds: readonly { lostAt: number }[],
  mayBeLost: boolean,
): SignalInterval {
  const [lostBelow, lostAbove] = lossLimits(
    lossesAtEnds.map(({ lostAt }) => lostAt),
    tested,
  );
  const reached = (end: SignalEnd | undefined, by: 1 | -1, last: number, lostAt: number): SignalEnd | undefined => {
    // A loss is no crossing: nothing burned beyond it. Where the flame was lost beyond a crossing, the end was passed.
    if (!end?.bounded || end.slope === 0 || Number.isFinite(lostAt)) return end;
    // A gust at the last pressure bends the curve down there like a cliff; past a cliff the flame is lost.
    const isGust =
      end.flameLost && !mayBeLost && Math.abs(last - end.value) < oneSettingShare * (tested[1] - tested[0]);
    const beyond = pairs.signal.filter((_, i) => (pairs.pressure[i]! - end.value) * by > 0);
    if (!isGust && (beyond.length === 0 || median(beyond) < interval.required.value)) return end;
    return { ...exactEstimate(last), bounded: false, flameLost: false, slope: 0 };
  };
  const low = reached(interval.low, -1, tested[0], lostBelow);
  const high = reached(interval.high, 1, tested[1], lostAbove);
  return { ...interval, ...(low && high && { low, high }), status: intervalStatus(low, high) };
}
