import { firstIndexWhere } from '../../../shared/numerics/search.ts';
import type { LiveColumn } from './live-buffer.ts';

/** Readings of one channel, as far as they are looked at here: times rise, seconds; a value that is NaN is a reading without a number. */
type Column = Pick<LiveColumn, 'elapsedS' | 'value' | 'length'>;

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
 */
export function spanStatistics(column: Column, fromS: number, toS: number): SpanStatistics {
  let [count, flagged, mean, squares] = [0, 0, 0, 0];
  let [lowest, highest] = [Number.NaN, Number.NaN];
  for (let i = firstFrom(column, fromS); i < column.length && column.elapsedS[i]! <= toS; i += 1) {
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

/** The lowest and the highest reading from one moment to another; undefined where there is none with a number. */
export function readingRange(column: Column, fromS: number, toS: number): [number, number] | undefined {
  const { count, lowest, highest } = spanStatistics(column, fromS, toS);
  return count > 0 ? [lowest, highest] : undefined;
}

/** Place of the first reading at or after a moment. */
const firstFrom = ({ elapsedS, length }: Pick<Column, 'elapsedS' | 'length'>, fromS: number): number =>
  firstIndexWhere(length, (i) => elapsedS[i]! >= fromS);

/** Place of the reading nearest to a moment; undefined where there is none within `mostS` seconds. */
export function nearestReading(
  column: Pick<Column, 'elapsedS' | 'length'>,
  atS: number,
  mostS: number,
): number | undefined {
  const next = firstFrom(column, atS);
  const off = (place: number) => Math.abs((column.elapsedS[place] ?? Infinity) - atS);
  const nearest = next > 0 && off(next - 1) <= off(next) ? next - 1 : next;
  return nearest < column.length && off(nearest) <= mostS ? nearest : undefined;
}
