import { findUnit } from '../../instruments/unit-token.ts';

/** Where the table of a logger's file begins. */
export interface Heading {
  names: string[];
  /** Cells of a line of units below the heading, or none. */
  units: string[];
  /** Index of the first row of data. */
  firstRow: number;
}

const looksTimed = (cell: string): boolean => /^[-+]?[.,]?\d/u.test(cell);

/** A word that stands for no unit or for a unit of time, in a line of units. */
const timeWords = /^(?:|-+|s|sec|seconds|ms|min|h|h?h:mm(?::ss.*)?|[dmy]+[./-][dmy]+[./-][dmy]+.*)$/iu;

const stripped = (cell: string): string => cell.replace(/^[[(]\s*|\s*[\])]$/gu, '');
const isUnitLine = (cells: string[]): boolean =>
  cells.some((cell) => findUnit(stripped(cell).replaceAll(/\s/gu, ''))) &&
  cells.every((cell) => timeWords.test(stripped(cell)) || findUnit(stripped(cell).replaceAll(/\s/gu, '')));

const usedLength = (row: string[]): number => row.findLastIndex((cell) => cell !== '') + 1;

/**
 * The heading: the row above the first run of data, or above the line of units between. A row of data has two cells or more and begins
 * with a digit, and so do the rows after it. Undefined where there is none.
 *
 * @param rows  without blank lines
 * @param skip  rows before the heading, where it is known
 */
export function findHeading(rows: string[][], skip?: number): Heading | undefined {
  const isData = (row: string[] | undefined) =>
    row === undefined || (usedLength(row) >= 2 && row.slice(0, 2).some(looksTimed) && looksTimed(row.find(Boolean)!));
  let first = rows.findIndex(
    (row, i) => i > (skip ?? 0) && usedLength(row) >= 2 && [0, 1, 2].every((ahead) => isData(rows[i + ahead])),
  );
  if (first < 0 && skip !== undefined && skip + 1 < rows.length) first = skip + 1;
  if (first < 1) return undefined;
  const clean = (row: string[]) => row.map((cell) => cell.replace(/^#\s*/u, ''));
  const above = clean(rows[first - 1]!);
  if (first >= 2 && isUnitLine(above) && usedLength(rows[first - 2]!) >= 2)
    return { names: clean(rows[first - 2]!), units: above.map(stripped), firstRow: first };
  return above.some(looksTimed) && above.every((cell) => cell === '' || looksTimed(cell))
    ? undefined
    : { names: above, units: [], firstRow: first };
}
