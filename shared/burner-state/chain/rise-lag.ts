import { exp } from '../../numerics/elementary.ts';
import { lagSeconds } from './lags.ts';

/** Follows the signal while a flame takes hold, for the detector's lag is seen best there. */
export interface RiseWatch {
  /**
   * One reading above dark, `sinceS` seconds after the one before.
   *
   * @param dark    how probable it is that nothing burns, and that a flame does
   * @param noise   standard deviation of a reading, in the signal's unit
   * @returns how well each of `lagSeconds` explains a rise that has just been seen to its end, at most 1; undefined otherwise
   */
  reading(value: number, sinceS: number, dark: number, burns: number, noise: number): Float64Array | undefined;
}

/** A rise is over when the flame has burned for so long, seconds; it lasts this long at most, and so much of dark before belongs to it. */
const burnsS = 2.5;
const longestS = 12;
const darkS = 1;
/** Seconds between the moments that are tried for its beginning. */
const triedEveryS = 0.05;
/** A rise differs from a first-order one by so much of its height: a pressure that settles, a flame that takes hold. */
const misfit = 0.02;
/** Seconds over which what a rise differs by stays the same. */
const correlatedS = 0.4;
/** Mean square of the residuals, against what is expected, from which a rise is none of the first order (a clipped amplifier). */
const leastFit = 4;
/** So many readings at the very top are those of an amplifier that clips: they say nothing of the rise. */
const clippedReadings = 4;
/** Heights that the rise of a clipped signal may be on its way to, in levels of the clip; a rise seen to its end has none. */
const beyondClip = [1.1, 1.25, 1.45, 1.7, 2.1];
/** No rise rules a lag out by more than this. */
const leastShare = 0.002;

export function createRiseWatch(): RiseWatch {
  let seen: { t: number; value: number }[] = [];
  let forS = 0;
  let isDone = true;
  return {
    reading(value, sinceS, dark, burns, noise) {
      for (const each of seen) each.t -= sinceS;
      if (dark > 0.9) isDone = false;
      if (isDone) return undefined;
      if (dark > 0.9) seen = seen.filter(({ t }) => t > -darkS);
      seen.push({ t: 0, value });
      forS = burns > 0.9 ? forS + sinceS : 0;
      if (forS < burnsS && seen[0]!.t > -longestS) return undefined;
      isDone = true;
      const rise = withoutClipped(seen);
      seen = [];
      return forS < burnsS ? undefined : sharesOf(rise, noise);
    },
  };
}

function withoutClipped(rise: { t: number; value: number }[]): { t: number; value: number }[] {
  const most = rise.reduce((top, { value }) => Math.max(top, value), -Infinity);
  const below = rise.filter(({ value }) => value < most);
  return rise.length - below.length < clippedReadings ? rise : below;
}

/** Likelihood of each lag, at its best height and beginning, against the best lag. */
function sharesOf(rise: readonly { t: number; value: number }[], noise: number): Float64Array | undefined {
  // Nothing is left of a signal that stands still at one value.
  if (rise.length < 8) return undefined;
  const first = rise[0]!.t;
  const top = rise.at(-1)!.value;
  const onset = rise.findLast(({ value }) => value < top / 2)?.t;
  if (onset === undefined) return undefined;
  const clip = medianOfLast(rise);
  const deviation = Math.hypot(noise, misfit * top);
  const independent = Math.max(1, (correlatedS * rise.length) / -first);
  const values = Float64Array.from(rise, ({ value }) => value);
  const shares = new Float64Array(rise.length);
  const squares = Float64Array.from(lagSeconds, (lag) => {
    let best = Infinity;
    for (let start = first; start <= onset; start += triedEveryS) {
      for (let i = 0; i < rise.length; i += 1) {
        const { t } = rise[i]!;
        shares[i] = t > start ? 1 - exp((start - t) / lag) : 0;
      }
      best = Math.min(best, residual(values, shares));
      for (const height of beyondClip)
        best = Math.min(best, clippedResidual(values, shares, height * clip, clip, best));
    }
    return best / deviation ** 2;
  });
  const least = Math.min(...squares);
  if (least > leastFit * rise.length) return undefined;
  return squares.map((each) => Math.max(leastShare, exp((least - each) / (2 * independent))));
}

/** Sum of squares left by the rise of these shares of its height at the height that fits best. */
function residual(values: Float64Array, shares: Float64Array): number {
  let bb = 0;
  let by = 0;
  let yy = 0;
  for (let i = 0; i < values.length; i += 1) {
    const share = shares[i]!;
    const value = values[i]!;
    bb += share * share;
    by += share * value;
    yy += value * value;
  }
  return bb > 0 ? Math.max(0, yy - (by * by) / bb) : yy;
}

/**
 * Sum of squares left by a rise towards `height` that an amplifier clips, its clip seen with the meter's own noise; where that is no less
 * than `least`, some number that is no less either.
 */
function clippedResidual(
  values: Float64Array,
  shares: Float64Array,
  height: number,
  clip: number,
  least: number,
): number {
  let sum = 0;
  for (let i = 0; i < values.length && sum < least; i += 1) {
    const share = shares[i]!;
    // Before the rise begins nothing is seen, even of a clip below dark.
    const level = share > 0 ? Math.min(clip, height * share) : 0;
    sum += (values[i]! - level) ** 2;
  }
  return sum;
}

/** Level at which a rise ends: the median of its last readings. */
function medianOfLast(rise: readonly { value: number }[]): number {
  const last = Float64Array.from(rise.slice(-5), ({ value }) => value).sort();
  return last[last.length >> 1]!;
}
