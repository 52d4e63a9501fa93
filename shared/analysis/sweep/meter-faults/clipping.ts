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
  return share > 0.2 && atTop > 2 * near && scattered.length > 0.3 * atTop && median(scattered) > 3 * digit;
}
