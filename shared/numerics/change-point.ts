import { mean } from './descriptive.ts';

/**
 * The one moment at which a series changes its level, in the least-squares sense.
 *
 * @param least  the least number of values before and after, at least 1
 * @returns index of the first value after the change, and the squared deviations from both levels that are left; undefined
 * with fewer than 2 x `least` values
 * Source: Bai 1994, J. Time Series Analysis 15, 453 (least squares over all cuts).
 */
export function changePoint(values: Float64Array, least: number): { start: number; squares: number } | undefined {
  const n = values.length;
  const squaresOf = runSquares(values);
  let start = -1;
  let squares = Infinity;
  for (let at = least; at + least <= n; at += 1) {
    const sum = squaresOf(0, at) + squaresOf(at, n);
    if (sum < squares) [start, squares] = [at, sum];
  }
  return start < 0 ? undefined : { start, squares };
}

/** Squared deviations of values[from, to) from their own mean, in constant time after one pass. */
function runSquares(values: Float64Array): (from: number, to: number) => number {
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
