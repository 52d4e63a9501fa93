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

/**
 * How many readings one independent reading stands for: the inflation of a mean's variance, from the autocorrelations up
 * to the first that vanishes.
 *
 * @param share  how much each reading counts, 0 to 1
 */
export function correlationInflation(standard: Float64Array, share: Float64Array): number {
  const counted = standard.map((value, i) => value * share[i]!);
  const square = lagProduct(counted, 0) / lagProduct(share, 0);
  let inflation = 1;
  for (let lag = 1; square > 0 && lag < Math.min(standard.length >> 2, 200); lag += 1) {
    const overlap = lagProduct(share, lag);
    if (overlap < 0.1 * lagProduct(share, 0)) break;
    const correlation = lagProduct(counted, lag) / overlap / square;
    if (correlation <= 0.02) break;
    inflation += 2 * correlation;
  }
  return inflation;
}
