import type { Pairs } from './pairs.ts';

/** The middle of what was seen in each of `bins` equal stretches of pressure, going one way; NaN where too little was. */
export interface BinnedMedians {
  pressure: number[];
  signal: number[];
}

/** Fewer points than this in a stretch say too little for a line. */
const leastInBin = 2;

/** Medians of pressure and signal for one direction of turning; it only guides the eye, nothing is computed from it. */
export function binnedMedians(
  pairs: Pairs,
  direction: 1 | -1,
  span: readonly [number, number],
  bins = 60,
): BinnedMedians {
  const inBin = Array.from({ length: bins }, () => ({ pressure: [] as number[], signal: [] as number[] }));
  const width = (span[1] - span[0]) / bins;
  for (let i = 0; i < pairs.length; i++) {
    if (pairs.direction[i] !== direction) continue;
    const bin = Math.floor((pairs.pressure[i]! - span[0]) / width);
    const found = inBin[Math.min(bins - 1, bin)];
    found?.pressure.push(pairs.pressure[i]!);
    found?.signal.push(pairs.signal[i]!);
  }
  const trend: BinnedMedians = { pressure: [], signal: [] };
  for (const { pressure, signal } of inBin) {
    const isEnough = signal.length >= leastInBin;
    trend.pressure.push(isEnough ? median(pressure) : Number.NaN);
    trend.signal.push(isEnough ? median(signal) : Number.NaN);
  }
  return trend;
}

function median(values: number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}
