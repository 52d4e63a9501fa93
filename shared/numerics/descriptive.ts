/** Arithmetic mean; NaN when empty. Checked against the NIST univariate sets. */
export function mean(values: Float64Array): number {
  let sum = 0;
  for (const value of values) sum += value;
  return sum / values.length;
}

/** Median of the values that are not NaN; NaN when there are none. The values stay in their order. */
export const median = (values: Float64Array): number => quantile(values, 0.5);

/**
 * Quantile of the values that are not NaN, in any order, which they keep; NaN when there are none. The same number as `quantileSorted` of
 * them sorted, without sorting more of them than it needs.
 *
 * @param q  0 to 1
 */
export function quantile(values: Float64Array, q: number): number {
  const some = new Float64Array(values.length);
  let n = 0;
  for (let i = 0; i < values.length; i += 1) {
    const value = values[i]!;
    if (!Number.isNaN(value)) some[n++] = value;
  }
  if (n === 0) return Number.NaN;
  const numbers = some.subarray(0, n);
  const place = (n - 1) * q;
  const below = Math.floor(place);
  const low = select(numbers, below);
  // What is selected has the smaller values before it and the larger ones behind.
  let high = low;
  if (below + 1 < n) {
    high = numbers[below + 1]!;
    for (let i = below + 2; i < n; i += 1) if (numbers[i]! < high) high = numbers[i]!;
  }
  return low + (place - below) * (high - low);
}

/**
 * The value that would stand at place `k`, from 0, if the numbers were sorted; they are reordered until it does, smaller ones before it.
 * None may be NaN.
 * Source: Hoare 1961, Comm. ACM 4, 321 (algorithm 65, FIND).
 */
export function select(numbers: Float64Array, k: number): number {
  let from = 0;
  let to = numbers.length - 1;
  while (from < to) {
    const pivot = middleOf(numbers[from]!, numbers[(from + to) >> 1]!, numbers[to]!);
    let i = from;
    let j = to;
    while (i <= j) {
      while (numbers[i]! < pivot) i += 1;
      while (numbers[j]! > pivot) j -= 1;
      if (i > j) break;
      const other = numbers[i]!;
      numbers[i] = numbers[j]!;
      numbers[j] = other;
      i += 1;
      j -= 1;
    }
    if (k <= j) to = j;
    else if (k >= i) from = i;
    else break;
  }
  return numbers[k]!;
}

/** The middle one of three: in sorted numbers it is the best pivot. */
const middleOf = (a: number, b: number, c: number): number => Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));

/** The values in rising order, in an array of their own; what is in order already, as times mostly are, is only copied. */
export function sorted(values: Float64Array): Float64Array {
  const copy = values.slice();
  for (let i = 1; i < copy.length; i += 1) if (!(copy[i - 1]! <= copy[i]!)) return copy.sort();
  return copy;
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
  for (let i = 0; i < values.length; i += 1) {
    const value = values[i]!;
    if (Number.isNaN(value)) continue;
    if (!(value >= low)) low = value;
    if (!(value <= high)) high = value;
  }
  return [low, high];
}
