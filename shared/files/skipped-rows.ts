/** A cell of a foreign file for use in a sentence: shortened, and without control characters. */
export const excerpt = (text: string): string => {
  const plain = text.replace(/\p{C}/gu, '?');
  return plain.length > 40 ? `${plain.slice(0, 40)}...` : plain;
};

/** Why a row without a time is left out. */
export const noTime = (cell: string): string =>
  cell.trim() === '' ? 'elapsed_s is empty' : `elapsed_s must be a number of seconds, not "${excerpt(cell)}"`;

/** Counts the rows of one table that could not be used. */
export interface SkippedRows {
  /** @param row  counted over the non-blank rows, the heading being 1 */
  add(row: number, reason: string): void;
  /** One sentence: how many of how many were left out, and where and why the first. None when there are none. */
  notices(of: number): string[];
}

/** @param file  the table, for messages */
export function createSkippedRows(file: string): SkippedRows {
  let count = 0;
  let first = '';
  return {
    add(row, reason) {
      if (count === 0) first = `row ${row}: ${reason}`;
      count += 1;
    },
    notices(of) {
      if (count === 0) return [];
      if (count === 1) return [`${file}: 1 of ${of} rows was left out, ${first}.`];
      return [`${file}: ${count} of ${of} rows were left out, the first is ${first}.`];
    },
  };
}
