import { mean } from './descriptive.ts';

/**
 * The one moment at which a series changes its level, in the least-squares sense.
 *
 * @param minSegment  fewest values before and after the change, at least 1
 * @returns index of the first value after the change, and the residual sum of squares about both levels; undefined with fewer
 * than 2 x `minSegment` values
 * Source: Bai 1994, J. Time Series Analysis 15, 453 (least squares over all cuts).
 */
export function changePoint(values: Float64Array, minSegment: number): { start: number; rss: number } | undefined {
  const n = values.length;
  const segmentRss = segmentSquares(values);
  let start = -1;
  let rss = Infinity;
  for (let at = minSegment; at + minSegment <= n; at += 1) {
    const sum = segmentRss(0, at) + segmentRss(at, n);
    if (sum < rss) [start, rss] = [at, sum];
  }
  return start < 0 ? undefined : { start, rss };
}

/** Squared deviations of values[from, to) from their own mean, in constant time after one pass. */
function segmentSquares(values: Float64Array): (from: number, to: number) => number {
  const n = values.length;
  // Around the mean of all, so that the difference of large sums keeps its digits.
  const middle = mean(values);
  const sums = new Float64Array(n + 1);
  const squares = new Float64Array(n + 1);
  for (let i = 0; i < n; i += 1) {
    const off = values[i]! - middle;
    sums[i + 1] = sums[i]! + off;
    squares[i + 1] = squares[i]! + off * off;
  }
  return (from, to) => {
    const sum = sums[to]! - sums[from]!;
    return Math.max(0, squares[to]! - squares[from]! - (sum * sum) / (to - from));
  };
}
