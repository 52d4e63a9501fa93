/** Arithmetic mean; NaN when empty. Checked against the NIST univariate sets. */
export function mean(values: Float64Array): number {
  let sum = 0;
  for (const value of values) sum += value;
  return sum / values.length;
}

/** Median of the values that are not NaN; NaN when there are none. The values stay in their order. */
export function median(values: Float64Array): number {
  const sorted = Float64Array.from(values).sort();
  let n = sorted.length;
  while (n > 0 && Number.isNaN(sorted[n - 1])) n -= 1;
  return quantileSorted(sorted.subarray(0, n), 0.5);
}

/**
 * Quantile of sorted values by linear interpolation; NaN when empty.
 * Source: Hyndman and Fan 1996, The American Statistician 50, 361 (definition 7, the default of R).
 *
 * @param q  0 to 1
 */
export function quantileSorted(sorted: Float64Array, q: number): number {
  const n = sorted.length;
  if (n === 0) return Number.NaN;
  const place = (n - 1) * q;
  const below = Math.floor(place);
  const above = Math.min(n - 1, below + 1);
  return sorted[below]! + (place - below) * (sorted[above]! - sorted[below]!);
}

/** Smallest and largest value that is not NaN; [NaN, NaN] when there is none. */
export function extent(values: Float64Array): [number, number] {
  let low = Number.NaN;
  let high = Number.NaN;
  for (const value of values) {
    if (Number.isNaN(value)) continue;
    if (!(value >= low)) low = value;
    if (!(value <= high)) high = value;
  }
  return [low, high];
}
