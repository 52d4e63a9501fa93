import type { Database, Statement } from 'better-sqlite3';
import type { Mark } from '../../../shared/model/capture.ts';
import type { Flag, Role } from '../../../shared/model/reading.ts';
import type { Owner } from './owner.ts';
import { createRowInserter } from './row-inserter.ts';
import type { UnreadBytes } from './unread.ts';
import { createUnreadRows } from './unread.ts';

/** One thing that happened on the time line of a recording; stored in the order in which they come. */
export type Entry =
  | { kind: 'line'; elapsedS: number; port: string; bytes: Uint8Array; readings: EntryReading[] }
  | { kind: 'mark'; mark: Mark }
  /** The lines before this are all that the backlog rows up to `row` (table `unread`) hold: these are removed. */
  | { kind: 'backlog-read'; row: number };

export interface EntryReading {
  role: Role;
  unit: string;
  /** NaN exactly when `flag` is set. */
  value: number;
  flag?: Flag;
}

/** How much of a capture has been written. */
export interface Written {
  lines: number;
  readings: number;
  durationS: number;
}

/** Another host took over the capture, as its owner seemed dead (a computer that slept): the two must not write into it together. */
export class OwnershipLost extends Error {
  override name = 'OwnershipLost';
}

/**
 * Writes batches into one capture. `append` is one transaction: all of the batch or, when it throws, nothing.
 * Throws `OwnershipLost` when the capture does not belong to its owner anymore, and what SQLite throws.
 */
export interface Appender {
  append(entries: readonly Entry[]): Written;
  /** Stores raw bytes that have not been decoded, in one transaction; gives the row of each. `append` turns them into lines: see `backlog-read`. */
  appendUnread(unread: readonly UnreadBytes[]): number[];
}

/**
 * @param key    the capture; new entries are appended to those it has
 * @param owner  who records it; undefined for one that is interrupted and has no owner
 */
export function createAppender(db: Database, key: number, owner: Owner | undefined): Appender {
  const line = createRowInserter(db, 'line', ['capture', 'seq', 'elapsed_s', 'port', 'raw']);
  const reading = createRowInserter(db, 'reading', ['capture', 'n', 'channel', 'elapsed_s', 'value', 'flag', 'line']);
  const mark = db.prepare('INSERT INTO mark (capture, elapsed_s, kind, text) VALUES (?, ?, ?, ?)');
  const count = db.prepare('UPDATE capture SET lines = ?, readings = ?, duration_s = ? WHERE key = ?');
  let written = readWritten(db, key);
  let lastSeq =
    db.prepare<[number], number>('SELECT coalesce(max(seq), 0) FROM line WHERE capture = ?').pluck().get(key) ?? 0;
  const channels = createChannelFinder(db, key);
  const claim = createClaim(db, key, owner);
  const unreadRows = createUnreadRows(db, key);

  const run = db.transaction((entries: readonly Entry[]): { written: Written; seq: number } => {
    if (!claim(written)) throw new OwnershipLost(`capture ${key}`);
    const now = { ...written };
    let seq = lastSeq;
    for (const entry of entries) {
      if (entry.kind === 'mark') {
        mark.run(key, entry.mark.elapsedS, entry.mark.kind, entry.mark.text);
        now.durationS = Math.max(now.durationS, entry.mark.elapsedS);
        continue;
      }
      if (entry.kind === 'backlog-read') {
        unreadRows.removeTo(entry.row);
        continue;
      }
      seq += 1;
      now.lines += 1;
      now.durationS = Math.max(now.durationS, entry.elapsedS);
      line.add([key, seq, entry.elapsedS, entry.port, entry.bytes]);
      for (const { role, unit, value, flag } of entry.readings) {
        now.readings += 1;
        const channel = channels.find(role, unit);
        reading.add([key, now.readings, channel, entry.elapsedS, flag ? null : value, flag ?? null, seq]);
      }
    }
    line.flush();
    reading.flush();
    count.run(now.lines, now.readings, now.durationS, key);
    return { written: now, seq };
  });

  const appendUnread = db.transaction((unread: readonly UnreadBytes[]): number[] => {
    if (!claim(written)) throw new OwnershipLost(`capture ${key}`);
    return unread.map(unreadRows.add);
  });

  return {
    appendUnread: (unread) => appendUnread.immediate(unread),
    append(entries) {
      try {
        const done = run.immediate(entries);
        written = done.written;
        lastSeq = done.seq;
        return written;
      } catch (error) {
        line.discard();
        reading.discard();
        channels.clear(); // one that was inserted in this transaction is gone
        throw error;
      }
    },
  };
}

/**
 * Verifies, within a transaction, that the capture still belongs to the owner and is as long as the owner left it. One that another
 * host called interrupted meanwhile, and that nobody resumed since, is taken back.
 */
function createClaim(db: Database, key: number, owner: Owner | undefined): (written: Written) => boolean {
  const select = db.prepare<[number], { status: string; owner_host: string | null; lines: number; readings: number }>(
    'SELECT status, owner_host, lines, readings FROM capture WHERE key = ?',
  );
  const takeBack = db.prepare(
    `UPDATE capture SET status = 'recording', owner_pid = ?, owner_process = ?, owner_host = ? WHERE key = ?`,
  );
  return (written) => {
    const now = select.get(key);
    if (!now || now.lines !== written.lines || now.readings !== written.readings) return false;
    if (now.owner_host === (owner?.host ?? null)) return now.status === (owner ? 'recording' : 'interrupted');
    if (!owner || now.status !== 'interrupted') return false;
    takeBack.run(owner.pid, owner.process, owner.host, key);
    return true;
  };
}

function readWritten(db: Database, key: number): Written {
  const row = db
    .prepare<[number], Written>('SELECT lines, readings, duration_s AS durationS FROM capture WHERE key = ?')
    .get(key);
  if (!row) throw new Error(`no capture with key ${key}`);
  return row;
}

/** Finds the channel of a role in a unit by its key, and inserts it when the capture has none yet. */
export function createChannelFinder(db: Database, key: number) {
  const insert = db.prepare('INSERT INTO channel (capture, role, unit) VALUES (?, ?, ?) ON CONFLICT DO NOTHING');
  const select: Statement<[number, string, string], number> = db
    .prepare<[number, string, string], number>('SELECT key FROM channel WHERE capture = ? AND role = ? AND unit = ?')
    .pluck();
  const known = new Map<string, Map<string, number>>();
  return {
    find(role: string, unit: string): number {
      let channel = known.get(role)?.get(unit);
      if (channel === undefined) {
        insert.run(key, role, unit);
        channel = select.get(key, role, unit);
        if (channel === undefined) throw new Error(`channel was not inserted: ${role} ${unit}`);
        known.set(role, (known.get(role) ?? new Map<string, number>()).set(unit, channel));
      }
      return channel;
    },
    clear: () => known.clear(),
  };
}
