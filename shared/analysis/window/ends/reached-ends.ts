import { extent, median } from '../../../numerics/descriptive.ts';
import { exactEstimate } from '../../curve/estimate.ts';
import { oneSettingShare } from '../../sweep/flame/falls.ts';
import type { Pairs } from '../../sweep/series/pairs.ts';
import { intervalStatus, lossLimits, type SignalEnd, type SignalInterval } from './signal-interval.ts';

/** Losses of the flame in a sweep, pressures in its unit. */
interface KnownLosses {
  /** Those that end the signal interval, or lie beyond its end. */
  atEnds: readonly { lostAt: number }[];
  /** A flame was lost where it burned well otherwise. */
  isAmid: boolean;
  /** The burner's states say that one was lost, or saw none at all. */
  isPossible: boolean;
}

/**
 * The same interval, but an end beyond which half of the readings themselves are still good, and nowhere surely bad, was not reached: a curve
 * that does not follow the last of them, or falls with a gust at the last pressure that was tested, crosses the required signal where no
 * reading stays below it. It is then open at the last pressure at which a flame was seen. Beyond a dip readings are good again; the dip ends
 * the interval all the same, and where they are bad again farther out another end was reached.
 *
 * @param pairs  readings while the flame burned, lag removed, in the sweep's units
 * @param tested  lowest and highest tested pressure
 * @param isBadBetween  whether the signal is surely below what is required somewhere between two pressures
 */
export function withReachedEnds(
  interval: SignalInterval,
  pairs: Pick<Pairs, 'pressure' | 'signal'>,
  tested: readonly [number, number],
  losses: KnownLosses,
  isBadBetween: (low: number, high: number) => boolean,
): SignalInterval {
  const [lostBelow, lostAbove] = lossLimits(
    losses.atEnds.map(({ lostAt }) => lostAt),
    tested,
  );
  if (pairs.pressure.length === 0) return interval;
  const [lowest, highest] = extent(pairs.pressure);
  // While the flame was out pressures farther out may have been passed; nothing burned there.
  const open = (at: number): SignalEnd => ({
    ...exactEstimate(Math.min(highest, Math.max(lowest, at))),
    bounded: false,
    flameLost: false,
    slope: 0,
  });
  const reached = (end: SignalEnd | undefined, by: 1 | -1, last: number, lostAt: number): SignalEnd | undefined => {
    if (!end) return undefined;
    if (!end.bounded) return open(end.value);
    // A loss is no crossing: nothing burned beyond it. Where the flame was lost beyond a crossing, the end was passed.
    if (end.slope === 0 || Number.isFinite(lostAt)) return end;
    // A gust at the last pressure bends the curve down there like a cliff; past a cliff the flame is lost.
    const isGust =
      end.flameLost && !losses.isPossible && Math.abs(last - end.value) < oneSettingShare * (tested[1] - tested[0]);
    const beyond = pairs.signal.filter((_, i) => (pairs.pressure[i]! - end.value) * by > 0);
    // Only the dark of a flame that was lost amid good pressures made the curve fall where no flame was.
    const isOfDark = losses.isAmid && beyond.length === 0;
    if (isGust || isOfDark) return open(last);
    if (beyond.length === 0 || median(beyond) < interval.required.value) return end;
    const isBad = by < 0 ? isBadBetween(lowest, end.value) : isBadBetween(end.value, highest);
    return isBad ? end : open(last);
  };
  const low = reached(interval.low, -1, tested[0], lostBelow);
  const high = reached(interval.high, 1, tested[1], lostAbove);
  return { ...interval, ...(low && high && { low, high }), status: intervalStatus(low, high) };
}
