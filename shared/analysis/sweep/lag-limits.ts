import type { StateSpan } from '../../burner-state/track.ts';
import { median } from '../../numerics/descriptive.ts';
import { firstIndexWhere } from '../../numerics/search.ts';
import { burns } from './flame/gas-off.ts';
import { type LagLimits, longestLag, usualLagLimits } from './series/initial-estimates.ts';
import type { Series } from './series/series.ts';

/** A valve moves the pressure by this share of it at least. */
const leastMove = 0.3;
/** The pressure has begun to move where this share of that is done. */
const begun = 0.1;
/** The signal of a flame is so much brighter than without one that the dark is below this share of it. */
const darkShare = 0.3;
/** A first-order lag follows a step to this share in its time constant. */
const followed = 1 - 1 / Math.E;
/** Seconds in which a level is read before a change, and from when to when after it; the next change comes no sooner. */
const [beforeS, settledS, afterS] = [3, 4, 7];
/** The states place a change to within so many seconds. */
const placeS = 2;
/** The limits are in steps of so many seconds, so that one more trial seldom moves them, and have as much to spare. */
const stepS = 0.5;

/**
 * Between which lags of the signal behind the pressure, as shown, a capture's light-offs and the shutting of its gas leave room, seconds; the
 * usual limits where none was seen. A flame cannot burn before its gas comes on nor go out before it is shut: the signal has followed it, to
 * 1 - 1/e, no earlier than its lag after the pressure began to move. A valve moves the pressure at once: what the manometer needs to follow that
 * is no less than it lags itself, and the signal precedes the pressure by no more. A spark that is held back, a slow valve, or walls that glow
 * make both times longer.
 *
 * @param pressure, signal  of the whole capture, each in one unit
 */
export function lagLimits(spans: readonly StateSpan[], pressure: Series, signal: Series): LagLimits {
  const changes = spans.flatMap(({ gas, from_s }, i): { atS: number; by: 1 | -1 }[] => {
    if ((gas !== 'opening' && gas !== 'closing') || spans[i - 1]?.gas === gas) return [];
    return [{ atS: from_s, by: gas === 'opening' ? 1 : -1 }];
  });
  const seen = changes.flatMap(({ atS, by }, i) => {
    const [last, next] = [changes[i - 1]?.atS ?? -Infinity, changes[i + 1]?.atS ?? Infinity];
    if (next - atS <= afterS || atS - last <= afterS) return [];
    const isLit = spans.some((span) => burns(span) && span.from_s < atS + afterS && span.to_s > atS - beforeS);
    return isLit ? (delaysOf(pressure, signal, atS, by) ?? []) : [];
  });
  // One may be wrong: a flame that went out a moment before its gas was shut.
  const least = (delays: number[]) => delays.sort((a, b) => a - b)[delays.length >= 3 ? 1 : 0]!;
  if (seen.length === 0) return usualLagLimits;
  const limit = (delays: number[]) => Math.min(longestLag, (Math.ceil(least(delays) / stepS) + 1) * stepS);
  return {
    shortestS: -limit(seen.map(({ pressureS }) => pressureS)),
    longestS: limit(seen.map(({ signalS }) => signalS)),
  };
}

const firstFrom = ({ time }: Series, atS: number): number => firstIndexWhere(time.length, (i) => time[i]! >= atS);

/** Median of the values between two times; undefined where there are fewer than three. */
function levelOf(series: Series, fromS: number, toS: number): number | undefined {
  const within = series.value.slice(firstFrom(series, fromS), firstFrom(series, toS));
  return within.length < 3 ? undefined : median(within);
}

/** When a series has come near its level of `afterS` for good, seconds; undefined where it has not by then. */
function followedAt(series: Series, beganS: number, before: number, after: number): number | undefined {
  const endS = beganS + afterS;
  const isFollowed = (i: number) => (series.value[i]! - before) / (after - before) >= followed;
  let last = firstFrom(series, endS);
  while (last > 0 && series.time[last - 1]! > beganS && isFollowed(last - 1)) last -= 1;
  const atS = series.time[last];
  return atS === undefined || atS > endS ? undefined : atS;
}

/**
 * Seconds from the first move of the pressure, by the last reading before it, to a pressure and to a signal that have followed it; undefined
 * where either did not move as a valve moves it.
 */
function delaysOf(pressure: Series, signal: Series, atS: number, by: 1 | -1) {
  const stoodAt = levelOf(pressure, atS - placeS - beforeS, atS - placeS);
  const standsAt = levelOf(pressure, atS + settledS, atS + afterS);
  if (stoodAt === undefined || standsAt === undefined) return undefined;
  if (!((standsAt - stoodAt) * by > leastMove * Math.max(stoodAt, standsAt))) return undefined;
  const moved = (i: number) => (pressure.value[i]! - stoodAt) / (standsAt - stoodAt);
  let onset = firstFrom(pressure, atS - placeS);
  while (onset < pressure.time.length && moved(onset) < 1 / 2) onset += 1;
  while (onset >= 0 && moved(onset) >= begun) onset -= 1;
  const beganS = pressure.time[onset];
  if (beganS === undefined) return undefined;

  const before = levelOf(signal, beganS - beforeS, beganS);
  const after = levelOf(signal, beganS + settledS, beganS + afterS);
  if (before === undefined || after === undefined) return undefined;
  const [dark, bright] = by > 0 ? [before, after] : [after, before];
  if (!(dark < darkShare * bright)) return undefined;
  const pressureAtS = followedAt(pressure, beganS, stoodAt, standsAt);
  const signalAtS = followedAt(signal, beganS, before, after);
  if (pressureAtS === undefined || signalAtS === undefined) return undefined;
  return { pressureS: pressureAtS - beganS, signalS: signalAtS - beganS };
}
