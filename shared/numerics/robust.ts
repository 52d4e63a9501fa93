import { median, quantile } from './descriptive.ts';

/** 1 / (normal quantile of 3/4): makes the median absolute deviation a standard deviation for normal noise. */
export const madFactor = 1.482602218505602;

/**
 * Robust standard deviation: the median absolute deviation from `center` times 1.4826; in the unit of the values.
 * Source: Hampel 1974, JASA 69, 383.
 */
export function robustDeviation(values: Float64Array, center = median(values)): number {
  const deviations = new Float64Array(values.length);
  for (let i = 0; i < values.length; i += 1) deviations[i] = Math.abs(values[i]! - center);
  return madFactor * median(deviations);
}

/** Of the deviations so many count, and their mean is this share of the standard deviation of normal noise: 2 (phi(0) - phi(z)) / 0.8 at z = 1.28155. */
const innerShare = 0.8;
const innerMean = 0.558_610;

/**
 * Robust standard deviation of deviations from a middle: the mean of the smallest four fifths of their sizes, scaled to that of normal noise; in
 * their unit. A median of sizes steps with the last digit of readings; a mean of them does not.
 * The factor follows from the half-normal distribution; a test draws it.
 */
export function trimmedDeviation(deviations: Float64Array): number {
  const sizes = deviations.map(Math.abs).sort();
  const inner = sizes.subarray(0, Math.max(1, Math.round(innerShare * sizes.length)));
  return inner.reduce((sum, size) => sum + size, 0) / inner.length / innerMean;
}

/**
 * Hampel filter: indices of the values that lie further than `threshold` robust deviations from the running median of the
 * `2 half + 1` values around, and that median. Near the first and last value the span is cut short.
 * Source: Hampel 1974, JASA 69, 383; Pearson 2002, IEEE Trans. Control Syst. Technol. 10, 55.
 *
 * @param least  distance from the median, unit of the values, up to which none is an outlier, however little the others scatter
 */
export function hampel(
  values: Float64Array,
  half: number,
  threshold: number,
  least = 0,
): { index: number; median: number }[] {
  const outliers: { index: number; median: number }[] = [];
  const span = new Float64Array(2 * half + 1);
  for (let i = 0; i < values.length; i += 1) {
    const from = Math.max(0, i - half);
    const n = Math.min(values.length, i + half + 1) - from;
    let low = Infinity;
    let high = -Infinity;
    for (let k = 0; k < n; k += 1) {
      const value = values[from + k]!;
      span[k] = value;
      low = Math.min(low, value);
      high = Math.max(high, value);
    }
    // The median lies between them: most readings are no outliers at the first look.
    if (high - low <= least) continue;
    const center = medianInPlace(span, n);
    if (Math.abs(values[i]! - center) <= least) continue;
    for (let k = 0; k < n; k += 1) span[k] = Math.abs(span[k]! - center);
    const spread = madFactor * medianInPlace(span, n);
    if (Math.abs(values[i]! - center) > threshold * spread) outliers.push({ index: i, median: center });
  }
  return outliers;
}

/** Median of the first `n` values, at least one, which are sorted by insertion: the quickest for a handful. None may be NaN. */
function medianInPlace(values: Float64Array, n: number): number {
  for (let i = 1; i < n; i += 1) {
    const value = values[i]!;
    let k = i;
    for (; k > 0 && values[k - 1]! > value; k -= 1) values[k] = values[k - 1]!;
    values[k] = value;
  }
  const middle = (n - 1) * 0.5;
  const below = values[Math.floor(middle)]!;
  return below + (middle - Math.floor(middle)) * (values[Math.ceil(middle)]! - below);
}

/**
 * Huber weight of a residual: 1 up to `threshold` deviations, then falling inversely.
 * Source: Huber 1964, Ann. Math. Stat. 35, 73.
 *
 * @param deviations  absolute residual divided by its standard deviation
 */
export const huberWeight = (deviations: number, threshold: number): number =>
  deviations > threshold ? threshold / deviations : 1;

/** Half the width of the middle 68 % of values in any order: the standard deviation of normal ones, which a few outliers do not move. */
export const percentileDeviation = (values: Float64Array): number =>
  (quantile(values, 0.8413) - quantile(values, 0.1587)) / 2;
