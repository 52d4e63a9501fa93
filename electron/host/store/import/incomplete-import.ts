import { randomUUID } from 'node:crypto';
import type { Database } from 'better-sqlite3';
import { createOwner, isAlive } from '../owner.ts';

/**
 * A capture on its way into the store. It comes in many short transactions, so that a recording beside it never waits long for
 * the write lock, and is invisible (`arriving` in the table `capture`) until the last one. What a crash leaves of it is removed by
 * the next import.
 */

// About ten milliseconds of writing.
export const rowsAtOnce = 2000;
const pauseMs = 20;
// An import writes all the time: one that has not for so long is dead, even if its process lives.
const silentMs = 15_000;

/** Called between two pieces, with the write lock free. */
export type Between = () => void;

/** Waits as long as another connection needs to notice that the lock is free; for threads that serve nothing else. */
export const letOthersWrite: Between = () => {
  Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, pauseMs);
};

/** Makes the invisible capture; gives its key. */
export function beginArriving(db: Database, setup: string, addedAt: string): number {
  const owner = createOwner();
  const { lastInsertRowid } = db
    .prepare(
      `INSERT INTO capture (id, added_at, status, setup, arriving, owner_pid, owner_process, owner_host, heartbeat_ms)
       VALUES (?, ?, 'interrupted', ?, 1, ?, ?, ?, ?)`,
    )
    .run(`arriving ${randomUUID()}`, addedAt, setup, owner.pid, owner.process, owner.host, Date.now());
  return Number(lastInsertRowid);
}

/** Writes `items` in pieces, each a transaction of its own. */
export function writeInPieces<T>(
  db: Database,
  key: number,
  items: readonly T[],
  between: Between,
  write: (item: T, index: number) => void,
): void {
  const alive = db.prepare('UPDATE capture SET heartbeat_ms = ? WHERE key = ? AND arriving = 1');
  const piece = db.transaction((from: number) => {
    const to = Math.min(from + rowsAtOnce, items.length);
    for (let i = from; i < to; i += 1) write(items[i] as T, i);
    alive.run(Date.now(), key);
  });
  for (let from = 0; from < items.length; from += rowsAtOnce) {
    piece.immediate(from);
    between();
  }
}

/** Removes a capture that will not arrive, in pieces too. */
export function removeArriving(db: Database, key: number, between: Between): void {
  for (const [table, number] of [
    ['reading', 'n'],
    ['line', 'seq'],
  ] as const) {
    const some = db.prepare(
      `DELETE FROM ${table} WHERE capture = ? AND ${number} IN
         (SELECT ${number} FROM ${table} WHERE capture = ? ORDER BY ${number} LIMIT ${rowsAtOnce})`,
    );
    while (some.run(key, key).changes > 0) between();
  }
  const rest = db.transaction(() => {
    for (const table of ['channel', 'meter', 'mark', 'trial', 'note'])
      db.prepare(`DELETE FROM ${table} WHERE capture = ?`).run(key);
    db.prepare('DELETE FROM capture WHERE key = ? AND arriving = 1').run(key);
  });
  // Nothing points to these rows any more; to make sure of that, SQLite would go through all readings of the store.
  db.pragma('foreign_keys = OFF');
  try {
    rest.immediate();
  } finally {
    db.pragma('foreign_keys = ON');
  }
}

/** Removes what imports left behind that were killed or stopped; gives how many there were. */
export function removeDeadArrivals(db: Database, wallMs: number, between: Between): number {
  const dead = db
    .prepare<[], { key: number; owner_pid: number; owner_process: string; heartbeat_ms: number }>(
      'SELECT key, owner_pid, owner_process, heartbeat_ms FROM capture WHERE arriving = 1',
    )
    .all()
    .filter(
      ({ owner_pid, owner_process, heartbeat_ms }) =>
        Math.abs(wallMs - heartbeat_ms) > silentMs || !isAlive(owner_pid, owner_process, heartbeat_ms, wallMs),
    );
  for (const { key } of dead) removeArriving(db, key, between);
  return dead.length;
}
