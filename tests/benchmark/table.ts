import { lowerBound, upperBound } from '../../shared/numerics/binomial.ts';

/** Rows under a heading, columns as wide as their widest cell; the first column is left-aligned. */
export function table(rows: string[][]): string[] {
  const widths = rows[0]!.map((_, column) => Math.max(...rows.map((row) => row[column]?.length ?? 0)));
  return rows.map((row) =>
    row
      .map((cell, column) => (column === 0 ? cell.padEnd(widths[0]!) : cell.padStart(widths[column]!)))
      .join('  ')
      .trimEnd(),
  );
}

/** A count out of others, with the two-sided exact interval (Clopper and Pearson 1934) of its share. */
export interface Share {
  count: number;
  of: number;
  share: number;
  ci: [number, number];
}

/** A share with its exact 95 % interval; everything from 0 to 1 when there is nothing to count. */
export function shareOf(count: number, of: number): Share {
  const ci: [number, number] = of === 0 ? [0, 1] : [lowerBound(count, of, 0.975), upperBound(count, of, 0.975)];
  return { count, of, share: of === 0 ? Number.NaN : count / of, ci };
}

/** A share as a number of percent, without the sign. */
export const percent = (share: number, digits = 0) => (100 * share).toFixed(digits);

/** `57/60 (86-99 %)` */
export const shareText = ({ count, of, ci }: Share): string =>
  of === 0 ? '-' : `${count}/${of} (${percent(ci[0])}-${percent(ci[1])} %)`;

/** Root mean square; NaN when empty. */
export const rootMeanSquare = (values: number[]): number =>
  values.length === 0 ? Number.NaN : Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length);

/** Median of at least one value. */
export const median = (values: number[]): number => {
  const sorted = values.toSorted((a, b) => a - b);
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
};
