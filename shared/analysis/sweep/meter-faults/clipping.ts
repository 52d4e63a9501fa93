import { median } from '../../../numerics/descriptive.ts';
import { resolutionOf } from '../series/meter-noise.ts';
import type { Series } from '../series/series.ts';

/**
 * Whether the amplifier may have clipped the signal: many readings at the very top, or an upper part of the readings that
 * hardly differs. A suspicion only, which makes a clipped curve worth trying.
 */
export function looksClipped(signal: Series): boolean {
  const sorted = Float64Array.from(signal.value).sort();
  const n = sorted.length;
  const { top, share } = topOf(signal);
  const spread = sorted[Math.floor(0.98 * n)]! - sorted[Math.floor(0.6 * n)]!;
  return share > 0.2 || spread < 0.004 * Math.abs(top);
}

/** Highest reading, in the signal's unit, and which share of the upper half of the readings stands at just that value. */
export function topOf(signal: Series): { top: number; share: number } {
  let top = -Infinity;
  for (const value of signal.value) top = Math.max(top, value);
  let atTop = 0;
  for (const value of signal.value) if (value >= top - 1e-4 * Math.abs(top)) atTop += 1;
  return { top, share: (2 * atTop) / signal.value.length };
}

/**
 * Whether the noise is cut off at the top: far more readings stand at the top itself than just below it, and the others
 * scatter below it over several digits. A coarse meter without a clip shows the top digit and its neighbor instead.
 */
export function cutAtTop(signal: Series): boolean {
  const { top, share } = topOf(signal);
  const digit = resolutionOf(signal.value);
  const belowTop = Float64Array.from(signal.value, (value) => top - value).sort();
  const atTop = belowTop.findIndex((distance) => distance > 0.5 * digit);
  const near = belowTop.findIndex((distance) => distance > 3.5 * digit) - atTop;
  const scattered = belowTop.filter((distance) => distance > 0.5 * digit && distance < 0.05 * top);
  if (share <= 0.2) return false;
  return (
    (atTop > 2 * near && scattered.length > 0.3 * atTop && median(scattered) > 3 * digit) ||
    isTopTheMode(belowTop, digit)
  );
}

/** By this factor more readings stand at a clip than a digit below it; at the top of a round hump the same ratio is 1.4. */
const topRatio = 1.6;
/** At least this share of the readings at a clip stands two to four digits below it. */
const leastTail = 0.03;

/**
 * Whether the top digit is the one that is shown most often, while others are shown more than a digit below it: noise that is not cut off
 * would go as far above.
 *
 * @param belowTop  distances of the readings from the top, rising, in the signal's unit
 */
function isTopTheMode(belowTop: Float64Array, digit: number): boolean {
  const within = (digits: number) => {
    const end = belowTop.findIndex((distance) => distance > (digits + 0.5) * digit);
    return end < 0 ? belowTop.length : end;
  };
  const [atTop, next, tail] = [within(0), within(1) - within(0), within(4) - within(1)];
  return atTop > topRatio * next && tail > leastTail * atTop;
}
