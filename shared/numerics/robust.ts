import { median, quantileSorted } from './descriptive.ts';

/** 1 / (normal quantile of 3/4): makes the median absolute deviation a standard deviation for normal noise. */
export const madFactor = 1.482602218505602;

/** Median absolute deviation times 1.4826: a robust standard deviation. */
export function robustDeviation(values: Float64Array, centre = median(values)): number {
  return madFactor * median(values.map((value) => Math.abs(value - centre)));
}

/**
 * Indices that the Hampel filter rejects: further than `threshold` robust deviations from the median of the
 * `2 half + 1` values around (windows are cut at the ends).
 * Source: Hampel 1974, JASA 69, 383; Pearson 2002, IEEE Trans. Control Syst. Technol. 10, 55.
 */
export function hampel(values: Float64Array, half: number, threshold: number): { index: number; median: number }[] {
  const found: { index: number; median: number }[] = [];
  for (let i = 0; i < values.length; i += 1) {
    const window = values.slice(Math.max(0, i - half), Math.min(values.length, i + half + 1)).sort();
    const centre = quantileSorted(window, 0.5);
    const spread = madFactor * quantileSorted(window.map((value) => Math.abs(value - centre)).sort(), 0.5);
    if (Math.abs(values[i]! - centre) > threshold * spread) found.push({ index: i, median: centre });
  }
  return found;
}

/** Weight of a residual that lies `far` deviations off: 1 up to `threshold`, then falling. Source: Huber 1964, Ann. Math. Stat. 35, 73. */
export const huberWeight = (far: number, threshold: number): number => (far > threshold ? threshold / far : 1);

/** Half the middle 68 % of sorted values: the standard deviation of normal ones, which a few wild values do not move. */
export const percentileDeviation = (sorted: Float64Array): number =>
  (quantileSorted(sorted, 0.8413) - quantileSorted(sorted, 0.1587)) / 2;
