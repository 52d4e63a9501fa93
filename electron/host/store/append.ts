import type { Database, Statement } from 'better-sqlite3';
import type { Mark } from '../../../shared/model/capture.ts';
import type { Flag, Role } from '../../../shared/model/reading.ts';
import { createRowInserter } from './row-inserter.ts';
import type { Owner } from './owner.ts';
import type { UnreadBytes } from './unread.ts';
import { createUnreadRows } from './unread.ts';

/** One thing that happened on the time line of a recording, in the order in which it is to be stored. */
export type Entry =
  | { kind: 'line'; elapsedS: number; port: string; bytes: Uint8Array; readings: EntryReading[] }
  | { kind: 'mark'; mark: Mark }
  /** The lines before this are all that the unread rows up to `row` hold. */
  | { kind: 'read'; row: number };

export interface EntryReading {
  role: Role;
  unit: string;
  /** NaN exactly when `flag` is set. */
  value: number;
  flag?: Flag;
}

/** How far a capture has been written. */
export interface Written {
  lines: number;
  readings: number;
  durationS: number;
}

/** Another host took the capture up while its owner was thought to be dead (a computer that slept): it must not be mixed. */
export class TakenOver extends Error {
  override name = 'TakenOver';
}

/**
 * Writes batches into one capture. `append` is one transaction: all of the batch or, when it throws, nothing.
 * Throws `TakenOver` when the capture is not its owner's any more.
 */
export interface Appender {
  append(entries: readonly Entry[]): Written;
  /** Keeps what cannot be read yet, in one transaction; gives the row of each. It becomes lines by `append`, with a `read` behind them. */
  keep(unread: readonly UnreadBytes[]): number[];
}

/**
 * @param key    the capture; goes on behind what it holds already
 * @param owner  who records it; undefined for one that is interrupted and nobody's
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
    if (!claim(written)) throw new TakenOver(`capture ${key}`);
    const now = { ...written };
    let seq = lastSeq;
    for (const entry of entries) {
      if (entry.kind === 'mark') {
        mark.run(key, entry.mark.elapsedS, entry.mark.kind, entry.mark.text);
        now.durationS = Math.max(now.durationS, entry.mark.elapsedS);
        continue;
      }
      if (entry.kind === 'read') {
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

  const keep = db.transaction((unread: readonly UnreadBytes[]): number[] => {
    if (!claim(written)) throw new TakenOver(`capture ${key}`);
    return unread.map(unreadRows.add);
  });

  return {
    keep: (unread) => keep.immediate(unread),
    append(entries) {
      try {
        const done = run.immediate(entries);
        written = done.written;
        lastSeq = done.seq;
        return written;
      } catch (error) {
        line.forget();
        reading.forget();
        channels.forget(); // one that was made in this transaction is not there any more
        throw error;
      }
    },
  };
}

/**
 * Makes sure that the capture is still the owner's and as long as he left it. One that was called interrupted meanwhile, and
 * that nobody took up since, is taken back.
 */
function createClaim(db: Database, key: number, owner: Owner | undefined): (left: Written) => boolean {
  const look = db.prepare<[number], { status: string; owner_host: string | null; lines: number; readings: number }>(
    'SELECT status, owner_host, lines, readings FROM capture WHERE key = ?',
  );
  const takeBack = db.prepare(
    `UPDATE capture SET status = 'recording', owner_pid = ?, owner_process = ?, owner_host = ? WHERE key = ?`,
  );
  return (left) => {
    const now = look.get(key);
    if (!now || now.lines !== left.lines || now.readings !== left.readings) return false;
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

/** Finds or makes the channel of a role in a unit. */
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
        if (channel === undefined) throw new Error(`channel was not made: ${role} ${unit}`);
        known.set(role, (known.get(role) ?? new Map<string, number>()).set(unit, channel));
      }
      return channel;
    },
    forget: () => known.clear(),
  };
}
