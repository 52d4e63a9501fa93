import { median } from '../../../numerics/descriptive.ts';
import { addUncertainty, type Estimate } from '../../curve/estimate.ts';
import type { Pairs } from '../../sweep/series/pairs.ts';
import type { SignalEnd, SignalInterval } from './signal-interval.ts';

/**
 * The interval of the free curve where the fitted one follows the readings as well: neither is known to be the true one, so each counts half,
 * and how far they lie apart is part of the uncertainty. Never narrower than it was.
 * Source: Buckland, Burnham and Augustin 1997, Biometrics 53, 603 (variance between models, here with equal weights).
 *
 * @param fitted  the interval of the fitted curve, in the same units
 */
export function withFittedCurve(free: SignalInterval, fitted: SignalInterval, confidence: number): SignalInterval {
  const widen = <T extends Estimate>(own: T, other: Estimate): T => {
    const more = (other.standardError ** 2 + (other.value - own.value) ** 2 - own.standardError ** 2) / 2;
    return more > 0 ? { ...own, ...addUncertainty(own, Math.sqrt(more), confidence) } : own;
  };
  const widenEnd = (own: SignalEnd | undefined, other: SignalEnd | undefined) =>
    own && other && isCrossing(own) && isCrossing(other) ? widen(own, other) : own;
  const [low, high] = [widenEnd(free.low, fitted.low), widenEnd(free.high, fitted.high)];
  return { ...free, plateau: widen(free.plateau, fitted.plateau), ...(low && high && { low, high }) };
}

const isCrossing = ({ bounded, flameLost }: SignalEnd): boolean => bounded && !flameLost;

/** Part of the tested pressures on either side of an end whose readings show how fast it was passed. */
const aroundShare = 1 / 40;

/**
 * The same interval with what the lag leaves open of the pressures that readings belong to: the free curve takes them for known. A lag
 * that is wrong by a second moves an end by as much as the pressure changed in a second there.
 *
 * @param pairs  readings while the flame burned, in time order, lag removed
 * @param lagU   standard uncertainty of the lag, seconds
 */
export function withLagUncertainty(
  interval: SignalInterval,
  pairs: Pick<Pairs, 'elapsedS' | 'pressure'>,
  tested: readonly [number, number],
  lagU: number,
  confidence: number,
): SignalInterval {
  const near = aroundShare * (tested[1] - tested[0]);
  const widen = (end: SignalEnd | undefined) => {
    if (!end || !isCrossing(end)) return end;
    return { ...end, ...addUncertainty(end, lagU * rateNear(pairs, end.value, near), confidence) };
  };
  const [low, high] = [widen(interval.low), widen(interval.high)];
  return { ...interval, ...(low && high && { low, high }) };
}

/** How fast the pressure moved where it lay within `near` of `at`, pressure per second: the median; 0 where no reading lies there. */
function rateNear({ elapsedS, pressure }: Pick<Pairs, 'elapsedS' | 'pressure'>, at: number, near: number): number {
  const rates: number[] = [];
  for (let i = 1; i < pressure.length; i += 1) {
    const seconds = elapsedS[i]! - elapsedS[i - 1]!;
    // The flame was out, or a meter silent, between readings that lie farther apart.
    if (Math.abs(pressure[i]! - at) > near || seconds <= 0 || seconds > longestGapS) continue;
    rates.push(Math.abs(pressure[i]! - pressure[i - 1]!) / seconds);
  }
  return rates.length > 0 ? median(Float64Array.from(rates)) : 0;
}

/** Longest time between two readings of one passage, seconds. */
const longestGapS = 2;
