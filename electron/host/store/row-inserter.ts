import type { Database } from 'better-sqlite3';

// Most of the cost of a short row is the call into SQLite, so several rows are inserted by one.
const rowsPerInsert = 16;

export type Cell = number | string | Uint8Array | null;

/** Gathers rows of one table and inserts several with one call, in the order in which they were added. */
export interface RowInserter {
  add(row: readonly Cell[]): void;
  /** Inserts the rows that are still gathered; to be called before the transaction ends. */
  flush(): void;
  /** Discards the gathered rows: the transaction has failed. */
  discard(): void;
}

export function createRowInserter(db: Database, table: string, columns: readonly string[]): RowInserter {
  const row = `(${columns.map(() => '?').join(', ')})`;
  const insert = `INSERT INTO ${table} (${columns.join(', ')}) VALUES`;
  const one = db.prepare(`${insert} ${row}`);
  const many = db.prepare(`${insert} ${Array.from({ length: rowsPerInsert }, () => row).join(', ')}`);
  const full = rowsPerInsert * columns.length;
  let cells: Cell[] = [];
  return {
    add(added) {
      for (const cell of added) cells.push(cell);
      if (cells.length < full) return;
      many.run(cells);
      cells = [];
    },
    flush() {
      for (let at = 0; at < cells.length; at += columns.length) one.run(cells.slice(at, at + columns.length));
      cells = [];
    },
    discard() {
      cells = [];
    },
  };
}
