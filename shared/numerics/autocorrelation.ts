/**
 * Sum of products of values `lag` places apart. Of deviations from a mean: for lag 0 the sum of squares, and any other
 * divided by that one the autocorrelation. Checked against the NIST univariate sets.
 */
export function laggedProduct(values: Float64Array, lag: number): number {
  let sum = 0;
  for (let i = 0; i + lag < values.length; i += 1) sum += values[i]! * values[i + lag]!;
  return sum;
}

/**
 * Variance inflation of a mean by autocorrelation, or how many values amount to one independent value: 1 + 2 x the sum of the
 * autocorrelations up to the first that is not clearly above chance (one standard error, 1 / sqrt(n)). At least 1.
 *
 * @param values  deviations from a mean or a curve, at equal intervals
 * @param weight  how much each of them counts, 0 to 1; all alike when absent
 * Source: Bayley and Hammersley 1946, J. Royal Stat. Soc. Suppl. 8, 184 (effective number of correlated observations).
 */
export function varianceInflation(values: Float64Array, weight = new Float64Array(values.length).fill(1)): number {
  const weighted = values.map((value, i) => value * weight[i]!);
  const all = laggedProduct(weight, 0);
  const square = laggedProduct(weighted, 0) / all;
  const chance = 1 / Math.sqrt(all);
  let inflation = 1;
  for (let lag = 1; square > 0 && lag < Math.min(values.length / 4, 200); lag += 1) {
    const overlap = laggedProduct(weight, lag);
    if (overlap < 0.1 * all) break;
    const correlation = laggedProduct(weighted, lag) / overlap / square;
    if (correlation <= chance) break;
    inflation += 2 * correlation;
  }
  return inflation;
}

/**
 * By how much correlation inflates the variance of a mean square, where it inflates that of a mean by `inflation`: both follow
 * from the one correlation r of neighbors in a first-order process, (1 + r) / (1 - r) and (1 + r^2) / (1 - r^2).
 * Source: Bayley and Hammersley 1946, J. Royal Stat. Soc. (Supplement) 8, 184.
 *
 * @param inflation  at least 1
 */
export const inflationOfSquares = (inflation: number): number => (inflation ** 2 + 1) / (2 * inflation);
