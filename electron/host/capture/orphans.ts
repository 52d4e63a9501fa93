import type { Database } from 'better-sqlite3';
import type { MeterFacts } from '../../../shared/model/capture.ts';
import { checkProfile } from '../../../shared/instruments/check-profile.ts';
import { createLineReader } from '../acquire/protocol/line-reader.ts';
import { createLineProtocol } from '../acquire/protocol/line-protocol.ts';
import { systemClock } from '../clock.ts';
import type { Entry } from '../store/append.ts';
import { createAppender, TakenOver } from '../store/append.ts';
import { metersOf } from '../store/read/capture-rows.ts';
import type { Owner } from '../store/owner.ts';
import { interruptOrphans } from '../store/owner.ts';
import { leftUnread, unreadOf } from '../store/unread.ts';

// One transaction reads so many rows of a few kB each: others get their turn between two.
const rowsAtOnce = 16;

/**
 * Takes in the captures whose recording process is gone: they become interrupted ones, and what had come too fast to be read
 * becomes lines.
 *
 * @param self  the host that asks: its own captures are alive
 */
export function recoverOrphans(db: Database, self: Owner, wallMs: number): void {
  interruptOrphans(db, self, wallMs);
  for (const capture of leftUnread(db)) readLeft(db, capture);
}

/** Bytes of one port in; what they say becomes entries. */
interface Reader {
  take(bytes: Uint8Array, elapsedS: number): void;
  /** Gives out what is left of a run without line end, which is not in the store when its row is removed. */
  cut(): void;
}

function readLeft(db: Database, capture: number): void {
  const meters = metersOf(db, capture);
  const entries: Entry[] = [];
  const readers = new Map<string, Reader>();
  const readerOf = (port: string): Reader => {
    let reader = readers.get(port);
    if (!reader) readers.set(port, (reader = createReader(port, meters, (entry) => entries.push(entry))));
    return reader;
  };
  try {
    const appender = createAppender(db, capture, undefined);
    for (let rows = unreadOf(db, capture, rowsAtOnce); rows.length > 0; rows = unreadOf(db, capture, rowsAtOnce)) {
      for (const { port, bytes, elapsedS } of rows) readerOf(port).take(bytes, elapsedS);
      for (const reader of readers.values()) reader.cut();
      appender.append([...entries.splice(0), { kind: 'read', row: rows.at(-1)!.row }]);
    }
  } catch (error) {
    // Another process has taken it in meanwhile, or has taken it up.
    if (!(error instanceof TakenOver)) throw error;
  }
}

/** Reads as the meter on `port` was read; where that is not known the lines are kept without readings. */
function createReader(port: string, meters: readonly MeterFacts[], onEntry: (entry: Entry) => void): Reader {
  const reads = meters.findLast((meter) => meter.port === port)?.reads;
  const profile = reads && checkProfile(reads, port);
  if (!profile?.ok) {
    let nowS = 0;
    const reader = createLineReader(({ bytes }) =>
      onEntry({ kind: 'line', elapsedS: nowS, port, bytes, readings: [] }),
    );
    return {
      take(bytes, elapsedS) {
        nowS = elapsedS;
        reader.push(bytes);
      },
      cut: reader.cut,
    };
  }
  const talk = createLineProtocol(
    {
      port,
      profile: profile.value,
      clock: systemClock,
      onSaid: ({ bytes, atMs, readings }) => onEntry({ kind: 'line', elapsedS: atMs / 1000, port, bytes, readings }),
    },
    () => true,
  );
  return { take: (bytes, elapsedS) => talk.push(bytes, elapsedS * 1000), cut: () => talk.cut() };
}
