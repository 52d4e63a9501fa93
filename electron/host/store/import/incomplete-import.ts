import { randomUUID } from 'node:crypto';
import type { Database } from 'better-sqlite3';
import { createOwner, isAlive } from '../owner.ts';
import type { Cell, RowInserter } from '../row-inserter.ts';

/**
 * A capture that is being imported. It is written in many short transactions, so that a recording at the same time never waits long for
 * the write lock, and is invisible (`arriving` in the table `capture`) until the last one. What a crash leaves of it is removed by
 * the next import.
 */

// About ten milliseconds of writing.
export const chunkRows = 8000;
/** In how many chunks so many rows are written. */
export const chunkCount = (rows: number): number => Math.ceil(rows / chunkRows);
const pauseMs = 20;
// An import writes all the time: one that has not for this long is dead, even if its process still runs.
const silentMs = 15_000;

/** Called between two chunks, with the write lock released. */
export type BetweenChunks = () => void;

/** Waits as long as another connection needs to notice that the lock is free. Blocks its process, so not for the one that serves the ports. */
export const yieldWriteLock: BetweenChunks = () => {
  Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, pauseMs);
};

/** Inserts the invisible capture; gives its key. */
export function beginImport(db: Database, setup: string, addedAt: string): number {
  const owner = createOwner();
  const { lastInsertRowid } = db
    .prepare(
      `INSERT INTO capture (id, added_at, status, setup, arriving, owner_pid, owner_process, owner_host, heartbeat_ms)
       VALUES (?, ?, 'interrupted', ?, 1, ?, ?, ?, ?)`,
    )
    .run(`arriving ${randomUUID()}`, addedAt, setup, owner.pid, owner.process, owner.host, Date.now());
  return Number(lastInsertRowid);
}

/** Writes `items` into `rows` in chunks, each a transaction of its own. */
export function writeInChunks<T>(
  db: Database,
  key: number,
  items: readonly T[],
  between: BetweenChunks,
  rows: RowInserter,
  cellsOf: (item: T, index: number) => readonly Cell[],
): void {
  const heartbeat = db.prepare('UPDATE capture SET heartbeat_ms = ? WHERE key = ? AND arriving = 1');
  const writeChunk = db.transaction((from: number) => {
    const to = Math.min(from + chunkRows, items.length);
    for (let i = from; i < to; i += 1) rows.add(cellsOf(items[i] as T, i));
    rows.flush();
    heartbeat.run(Date.now(), key);
  });
  for (let from = 0; from < items.length; from += chunkRows) {
    writeChunk.immediate(from);
    between();
  }
}

/** Removes an incomplete capture, in chunks too. */
export function removeIncompleteImport(db: Database, key: number, between: BetweenChunks): void {
  for (const [table, number] of [
    ['reading', 'n'],
    ['line', 'seq'],
  ] as const) {
    const removeChunk = db.prepare(
      `DELETE FROM ${table} WHERE capture = ? AND ${number} IN
         (SELECT ${number} FROM ${table} WHERE capture = ? ORDER BY ${number} LIMIT ${chunkRows})`,
    );
    while (removeChunk.run(key, key).changes > 0) between();
  }
  const rest = db.transaction(() => {
    for (const table of ['channel', 'meter', 'mark', 'trial', 'note'])
      db.prepare(`DELETE FROM ${table} WHERE capture = ?`).run(key);
    db.prepare('DELETE FROM capture WHERE key = ? AND arriving = 1').run(key);
  });
  // Nothing refers to these rows anymore; to verify that, SQLite would scan all readings of the store.
  db.pragma('foreign_keys = OFF');
  try {
    rest.immediate();
  } finally {
    db.pragma('foreign_keys = ON');
  }
}

/** Removes the incomplete captures of imports that were killed; gives how many there were. `wallMs` is now, epoch milliseconds. */
export function removeAbandonedImports(db: Database, wallMs: number, between: BetweenChunks): number {
  const dead = db
    .prepare<[], { key: number; owner_pid: number; owner_process: string; heartbeat_ms: number }>(
      'SELECT key, owner_pid, owner_process, heartbeat_ms FROM capture WHERE arriving = 1',
    )
    .all()
    .filter(
      ({ owner_pid, owner_process, heartbeat_ms }) =>
        Math.abs(wallMs - heartbeat_ms) > silentMs || !isAlive(owner_pid, owner_process, heartbeat_ms, wallMs),
    );
  for (const { key } of dead) removeIncompleteImport(db, key, between);
  return dead.length;
}
