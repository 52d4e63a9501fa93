import { normalQuantile } from './distributions.ts';
import { quantileSorted } from './descriptive.ts';

/** A robust slope: y per x, with its two-sided interval. */
export interface TheilSen {
  slope: number;
  ci: [number, number];
}

/**
 * Theil-Sen slope: the median of the slopes of all pairs, with the interval that Kendall's test gives.
 *
 * Works on all n (n - 1) / 2 pairs: thin a long series to a few hundred values first.
 *
 * @param x, y       same length, any order; no NaN
 * @param confidence of the interval, two-sided
 * @param inflation  variance inflation of the test by autocorrelation: n / effective sample size; 1 when independent
 * Undefined when no two x differ.
 * Source: Sen 1968, JASA 63, 1379; variance for correlated values: Yue and Wang 2004, Water Resources Management 18, 201.
 */
export function theilSen(x: Float64Array, y: Float64Array, confidence: number, inflation = 1): TheilSen | undefined {
  const n = x.length;
  const slopes = new Float64Array((n * (n - 1)) / 2);
  let pairs = 0;
  for (let i = 0; i < n; i += 1)
    for (let j = 0; j < i; j += 1) {
      const dx = x[i]! - x[j]!;
      if (dx === 0) continue;
      slopes[pairs] = (y[i]! - y[j]!) / dx;
      pairs += 1;
    }
  if (pairs === 0) return undefined;
  const sorted = slopes.subarray(0, pairs).sort();
  const variance = pairVariance(n) - tieVariance(x) - tieVariance(y);
  const halfRank = normalQuantile((1 + confidence) / 2) * Math.sqrt(Math.max(0, variance * inflation));
  const lower = Math.max(0, roundHalfToEven((pairs - halfRank) / 2) - 1);
  const upper = Math.min(pairs - 1, roundHalfToEven((pairs + halfRank) / 2));
  return { slope: quantileSorted(sorted, 0.5), ci: [sorted[lower]!, sorted[upper]!] };
}

/** Variance of Kendall's score of n different values. */
const pairVariance = (n: number) => (n * (n - 1) * (2 * n + 5)) / 18;

/** By how much ties reduce that variance. */
function tieVariance(values: Float64Array): number {
  const sorted = Float64Array.from(values).sort();
  let sum = 0;
  let from = 0;
  for (let i = 1; i <= sorted.length; i += 1) {
    if (i < sorted.length && sorted[i] === sorted[from]) continue;
    sum += pairVariance(i - from);
    from = i;
  }
  return sum;
}

/** Rounds a half to the even neighbor, so that neither side of the interval is favored. */
function roundHalfToEven(value: number): number {
  const below = Math.floor(value);
  const rest = value - below;
  if (rest !== 0.5) return Math.round(value);
  return below % 2 === 0 ? below : below + 1;
}
