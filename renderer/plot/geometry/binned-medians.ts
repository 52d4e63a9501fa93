import type { Pairs } from './pairs.ts';

/** Median pressure and signal of each bin; NaN where a bin has too few points. */
export interface BinnedMedians {
  pressure: number[];
  signal: number[];
}

/** The median of a single point is that point, so a line through it would only repeat the scatter. */
const minPerBin = 2;

/**
 * Medians of pressure and signal in `bins` equal ranges of pressure, for one direction of turning in one stretch with a flame.
 * They only guide the eye; nothing is computed from them.
 */
export function binnedMedians(
  pairs: Pairs,
  direction: 1 | -1,
  stretch: number,
  span: readonly [number, number],
  bins = 60,
): BinnedMedians {
  const inBin = Array.from({ length: bins }, () => ({ pressure: [] as number[], signal: [] as number[] }));
  const width = (span[1] - span[0]) / bins;
  for (let i = 0; i < pairs.length; i++) {
    if (pairs.direction[i] !== direction || pairs.stretch[i] !== stretch) continue;
    const bin = Math.floor((pairs.pressure[i]! - span[0]) / width);
    const found = inBin[Math.min(bins - 1, bin)];
    found?.pressure.push(pairs.pressure[i]!);
    found?.signal.push(pairs.signal[i]!);
  }
  const medians: BinnedMedians = { pressure: [], signal: [] };
  for (const { pressure, signal } of inBin) {
    const hasEnough = signal.length >= minPerBin;
    medians.pressure.push(hasEnough ? median(pressure) : Number.NaN);
    medians.signal.push(hasEnough ? median(signal) : Number.NaN);
  }
  return medians;
}

function median(values: number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}
