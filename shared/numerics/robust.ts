import { median, quantileSorted } from './descriptive.ts';

/** 1 / (normal quantile of 3/4): makes the median absolute deviation a standard deviation for normal noise. */
export const madFactor = 1.482602218505602;

/**
 * Robust standard deviation: the median absolute deviation from `center` times 1.4826; in the unit of the values.
 * Source: Hampel 1974, JASA 69, 383.
 */
export function robustDeviation(values: Float64Array, center = median(values)): number {
  return madFactor * median(values.map((value) => Math.abs(value - center)));
}

/**
 * Hampel filter: indices of the values that lie further than `threshold` robust deviations from the running median of the
 * `2 half + 1` values around, and that median. Near the first and last value the span is cut short.
 * Source: Hampel 1974, JASA 69, 383; Pearson 2002, IEEE Trans. Control Syst. Technol. 10, 55.
 */
export function hampel(values: Float64Array, half: number, threshold: number): { index: number; median: number }[] {
  const outliers: { index: number; median: number }[] = [];
  for (let i = 0; i < values.length; i += 1) {
    const span = values.slice(Math.max(0, i - half), Math.min(values.length, i + half + 1)).sort();
    const center = quantileSorted(span, 0.5);
    const spread = madFactor * quantileSorted(span.map((value) => Math.abs(value - center)).sort(), 0.5);
    if (Math.abs(values[i]! - center) > threshold * spread) outliers.push({ index: i, median: center });
  }
  return outliers;
}

/**
 * Huber weight of a residual: 1 up to `threshold` deviations, then falling inversely.
 * Source: Huber 1964, Ann. Math. Stat. 35, 73.
 *
 * @param deviations  absolute residual divided by its standard deviation
 */
export const huberWeight = (deviations: number, threshold: number): number =>
  deviations > threshold ? threshold / deviations : 1;

/**
 * Half the width of the middle 68 % of sorted values: the standard deviation of normal ones, which a few outliers do not move.
 */
export const percentileDeviation = (sorted: Float64Array): number =>
  (quantileSorted(sorted, 0.8413) - quantileSorted(sorted, 0.1587)) / 2;
