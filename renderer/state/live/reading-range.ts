import { firstAfter, type LiveColumn } from './live-buffer.ts';

/** The lowest and the highest reading from `fromS` to `toS`, seconds; undefined where there is none with a number. */
export function readingRange(column: LiveColumn, fromS: number, toS: number): [number, number] | undefined {
  let low = Infinity;
  let high = -Infinity;
  const end = firstAfter(column, toS);
  for (let i = firstAfter(column, fromS - Number.EPSILON * Math.abs(fromS)); i < end; i++) {
    const value = column.value[i]!;
    if (value < low) low = value;
    if (value > high) high = value;
  }
  return low <= high ? [low, high] : undefined;
}
