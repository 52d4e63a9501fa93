import { mean } from './moments.ts';

/** A series cut into runs of constant level. `starts[k]` is the index at which run k + 1 begins; none for one run. */
export interface Segments {
  starts: number[];
  /** Sum of squared deviations from the levels of the runs. */
  squares: number;
}

/**
 * The best cuts of a series into 1, 2, ... runs of constant level in the least-squares sense, by dynamic programming.
 * Takes breaks x n^2 steps: thin a long series to a few hundred values first.
 *
 * @param mostBreaks  the most cuts that are tried
 * @param least       the least number of values in a run, at least 1
 * @returns for every number of cuts that fits, from none upwards
 * Source: Bai and Perron 2003, J. Applied Econometrics 18, 1.
 */
export function bestSegments(values: Float64Array, mostBreaks: number, least: number): Segments[] {
  const n = values.length;
  const squaresOf = runSquares(values);
  if (n < least) return [];
  const found: Segments[] = [{ starts: [], squares: squaresOf(0, n) }];
  // until[end]: least squares of values[0, end) in the number of runs at hand; cut[k][end]: where its last run begins.
  let until = Float64Array.from({ length: n + 1 }, (_, end) => (end >= least ? squaresOf(0, end) : Infinity));
  const cuts: Int32Array[] = [];
  for (let breaks = 1; breaks <= mostBreaks && (breaks + 1) * least <= n; breaks += 1) {
    const next = new Float64Array(n + 1).fill(Infinity);
    const cut = new Int32Array(n + 1);
    for (let end = (breaks + 1) * least; end <= n; end += 1)
      for (let at = breaks * least; at + least <= end; at += 1) {
        const squares = until[at]! + squaresOf(at, end);
        if (squares < next[end]!) [next[end], cut[end]] = [squares, at];
      }
    cuts.push(cut);
    until = next;
    const starts: number[] = [];
    for (let k = breaks - 1, end = n; k >= 0; k -= 1) {
      end = cuts[k]![end]!;
      starts.unshift(end);
    }
    found.push({ starts, squares: next[n]! });
  }
  return found;
}

/**
 * The one moment at which a series changes its level.
 *
 * @returns index of the first value after the change, both levels, the squares left, and the F statistic against no
 * change; undefined with fewer than 2 x `least` values
 * Source: Andrews 1993, Econometrica 61, 821 (largest F over all cuts).
 */
export function changePoint(
  values: Float64Array,
  least: number,
): { start: number; before: number; after: number; squares: number; f: number } | undefined {
  const n = values.length;
  const squaresOf = runSquares(values);
  let start = -1;
  let squares = Infinity;
  for (let at = least; at + least <= n; at += 1) {
    const sum = squaresOf(0, at) + squaresOf(at, n);
    if (sum < squares) [start, squares] = [at, sum];
  }
  if (start < 0) return undefined;
  return {
    start,
    before: mean(values.subarray(0, start)),
    after: mean(values.subarray(start)),
    squares,
    f: (squaresOf(0, n) - squares) / (squares / (n - 2)),
  };
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
