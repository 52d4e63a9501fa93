import type { Database } from 'better-sqlite3';

/** Whole lines with their line ends as they came from a port at once, not read yet. */
export interface UnreadBytes {
  elapsedS: number;
  port: string;
  bytes: Uint8Array;
}

/** The rows in which a capture keeps what has not been read yet. To be used within a transaction. */
export interface UnreadRows {
  /** Gives the row's key; a later row has a larger one. */
  add(unread: UnreadBytes): number;
  /** The lines of this row and of all before it are in the store now. */
  removeTo(row: number): void;
}

export function createUnreadRows(db: Database, capture: number): UnreadRows {
  const insert = db.prepare('INSERT INTO unread (capture, elapsed_s, port, bytes) VALUES (?, ?, ?, ?)');
  const remove = db.prepare('DELETE FROM unread WHERE capture = ? AND key <= ?');
  return {
    add: ({ elapsedS, port, bytes }) => Number(insert.run(capture, elapsedS, port, bytes).lastInsertRowid),
    removeTo: (row) => void remove.run(capture, row),
  };
}

/** The captures that nobody records and that hold something unread: their recording was killed. */
export const leftUnread = (db: Database): number[] =>
  db
    .prepare<[], number>(
      `SELECT DISTINCT capture FROM unread JOIN capture ON capture.key = unread.capture WHERE status = 'interrupted'`,
    )
    .pluck()
    .all();

/** What a capture holds unread, in the order of arrival, at most `most` rows. */
export const unreadOf = (db: Database, capture: number, most: number): (UnreadBytes & { row: number })[] =>
  db
    .prepare<[number, number], UnreadBytes & { row: number }>(
      'SELECT key AS row, elapsed_s AS elapsedS, port, bytes FROM unread WHERE capture = ? ORDER BY key LIMIT ?',
    )
    .all(capture, most);
