/** What the readings of one channel were in a span of time, in its unit. */
export interface SpanStatistics {
  /** Readings with a number, and those without. */
  count: number;
  flagged: number;
  /** NaN without a reading. */
  mean: number;
  /** Sample standard deviation, divisor n - 1; NaN with fewer than two readings. */
  deviation: number;
  lowest: number;
  highest: number;
}

/**
 * Statistics of a column from one moment to another, both included.
 * Source of mean and deviation: Welford 1962, Technometrics 4, 419.
 *
 * @param column  times rise; a value that is NaN is a reading without a number
 */
export function spanStatistics(
  column: { elapsedS: ArrayLike<number>; value: ArrayLike<number>; length: number },
  fromS: number,
  toS: number,
): SpanStatistics {
  let [count, flagged, mean, squares] = [0, 0, 0, 0];
  let [lowest, highest] = [Number.NaN, Number.NaN];
  for (let i = 0; i < column.length && column.elapsedS[i]! <= toS; i += 1) {
    if (column.elapsedS[i]! < fromS) continue;
    const value = column.value[i]!;
    if (Number.isNaN(value)) {
      flagged += 1;
      continue;
    }
    count += 1;
    const step = value - mean;
    mean += step / count;
    squares += step * (value - mean);
    if (!(value >= lowest)) lowest = value;
    if (!(value <= highest)) highest = value;
  }
  return {
    count,
    flagged,
    mean: count > 0 ? mean : Number.NaN,
    deviation: count > 1 ? Math.sqrt(squares / (count - 1)) : Number.NaN,
    lowest,
    highest,
  };
}

/** Place of the reading nearest to a moment; undefined where there is none within `mostS` seconds. */
export function nearestReading(
  column: { elapsedS: ArrayLike<number>; length: number },
  atS: number,
  mostS: number,
): number | undefined {
  let low = 0;
  let high = column.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (column.elapsedS[middle]! < atS) low = middle + 1;
    else high = middle;
  }
  const off = (place: number) => Math.abs((column.elapsedS[place] ?? Infinity) - atS);
  const nearest = low > 0 && off(low - 1) <= off(low) ? low - 1 : low;
  return nearest < column.length && off(nearest) <= mostS ? nearest : undefined;
}
