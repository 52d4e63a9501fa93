import { cutAtTop } from './clipping.ts';
import { runsWhere, type Series } from '../series/series.ts';
import { resolutionOf } from '../series/meter-noise.ts';

/** The lowest and the highest signal that the meter shows, in its unit; a side is absent where nothing speaks for an end of its range. */
export interface MeterRange {
  bottom?: number;
  top?: number;
}

/** So many readings must stand at an end of the range, and this share of all. */
const leastAtEnd = 8;
const leastShare = 0.04;
/** Of them there are at least so many times more than readings within a few digits inside: noise and coarse digits leave both. */
const moreThanNear = 4;
const nearDigits = 2.5;
/** Below this share of the highest signal a lowest one is the dark of a detector. */
const darkShare = 0.05;

/**
 * The ends of the meter's range at which the signal may have stood still while the flame went on: far more readings at the very highest
 * or lowest value than just inside it. A suspicion only, which makes a curve worth trying that goes on beyond.
 */
export function suspectedRange(signal: Series): MeterRange {
  const { value } = signal;
  const digit = resolutionOf(value);
  const [bottom, top] = value.reduce(([a, b], v) => [Math.min(a, v), Math.max(b, v)], [Infinity, -Infinity]);
  const standsAt = (end: number) => {
    const within = (digits: number) => value.filter((v) => Math.abs(v - end) <= digits * digit).length;
    const at = within(0.5);
    return at >= leastAtEnd && at >= leastShare * value.length && at > moreThanNear * (within(nearDigits) - at);
  };
  return {
    ...(bottom > darkShare * top && standsAt(bottom) && { bottom }),
    // Noise that is cut off at the top scatters below it: the amplifier's clip, before the lag of the meter.
    ...(standsAt(top) && !cutAtTop(signal) && { top }),
  };
}

/** For each reading 1 where it stands at the top of the range or above, -1 at the bottom or below, else 0. */
export function cutOff({ value }: Series, { bottom = -Infinity, top = Infinity }: MeterRange): Int8Array {
  const digit = resolutionOf(value) / 2;
  return Int8Array.from(value, (v) => Number(v >= top - digit) - Number(v <= bottom + digit));
}

/** What a meter of that range shows of a signal. */
export const shownBy = ({ bottom = -Infinity, top = Infinity }: MeterRange, signal: number): number =>
  Math.min(top, Math.max(bottom, signal));

/** Fewer overloads in a row than this, or over in less than so many seconds, are a bad contact. */
const leastOverloads = 3;
const leastOverloadS = 1;
/** Just before or after an overload of its range the meter showed more than this share of its highest number. */
const nearTop = 0.5;

/**
 * The readings with those of an overload put in at the highest number that the meter showed: the signal was there or above. `top` is absent
 * where there are none, or where they stand amid low numbers.
 *
 * @param overloads  when the meter reported an overload, seconds, rising
 */
export function withOverloads(signal: Series, overloads: readonly number[]): { signal: Series; top?: number } {
  if (overloads.length < leastOverloads || signal.value.length === 0) return { signal };
  const top = signal.value.reduce((a, b) => Math.max(a, b), -Infinity);
  const all = [
    ...Array.from(signal.time, (t, i) => ({ t, value: signal.value[i]! })),
    ...overloads.map((t) => ({ t, value: Infinity })),
  ].sort((a, b) => a.t - b.t);
  const isKept = new Uint8Array(all.length).fill(1);
  let found = false;
  for (const [from, to] of runsWhere(all.length, (i) => all[i]!.value === Infinity)) {
    const neighbors = [all[from - 1]?.value, all[to]?.value].filter((v) => v !== undefined);
    const isHigh = neighbors.length > 0 && neighbors.every((v) => v > nearTop * top);
    const isLong = to - from >= leastOverloads && all[to - 1]!.t - all[from]!.t >= leastOverloadS;
    if (isHigh && isLong) found = true;
    else isKept.fill(0, from, to);
  }
  if (!found) return { signal };
  const kept = all.filter((each, i) => isKept[i] === 1 && each.t !== all[i + 1]?.t);
  return {
    top,
    signal: {
      time: Float64Array.from(kept, ({ t }) => t),
      value: Float64Array.from(kept, ({ value }) => Math.min(top, value)),
    },
  };
}
