import type { Database } from 'better-sqlite3';

/** Whole lines with their line endings as they came from a port, not decoded yet. */
export interface UnreadBytes {
  elapsedS: number;
  port: string;
  bytes: Uint8Array;
}

/** The rows of raw bytes of a capture that have not been decoded yet. To be used within a transaction. */
export interface UnreadRows {
  /** Gives the row's key, which is larger than that of any row before. */
  add(unread: UnreadBytes): number;
  /** Removes this row and all before it: their lines are in the store now. */
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

/** Keys of interrupted captures with raw bytes that were never decoded: their recording was killed. */
export const capturesWithUnread = (db: Database): number[] =>
  db
    .prepare<[], number>(
      `SELECT DISTINCT capture FROM unread JOIN capture ON capture.key = unread.capture WHERE status = 'interrupted'`,
    )
    .pluck()
    .all();

/** The raw bytes of a capture in the order of arrival, at most `limit` rows. */
export const unreadRowsOf = (db: Database, capture: number, limit: number): (UnreadBytes & { row: number })[] =>
  db
    .prepare<[number, number], UnreadBytes & { row: number }>(
      'SELECT key AS row, elapsed_s AS elapsedS, port, bytes FROM unread WHERE capture = ? ORDER BY key LIMIT ?',
    )
    .all(capture, limit);
