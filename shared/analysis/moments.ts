/** Arithmetic mean; NaN when empty. Checked against the NIST univariate sets, like the rest of this file. */
export function mean(values: Float64Array): number {
  let sum = 0;
  for (const value of values) sum += value;
  return sum / values.length;
}

/**
 * Sum of products of values `lag` places apart. Of deviations from a mean: for lag 0 the sum of squares, and any other
 * divided by that one the autocorrelation.
 */
export function lagProduct(values: Float64Array, lag: number): number {
  let sum = 0;
  for (let i = 0; i + lag < values.length; i += 1) sum += values[i]! * values[i + lag]!;
  return sum;
}
