import type { Database } from 'better-sqlite3';
import { checkProfile } from '../../../shared/instruments/check-profile.ts';
import type { MeterFacts } from '../../../shared/model/capture.ts';
import { createLineProtocol } from '../acquire/protocol/line-protocol.ts';
import { createLineReader } from '../acquire/protocol/line-reader.ts';
import { systemClock } from '../clock.ts';
import type { Entry } from '../store/append.ts';
import { createAppender, OwnershipLost } from '../store/append.ts';
import type { Owner } from '../store/owner.ts';
import { interruptOrphans } from '../store/owner.ts';
import { metersOf } from '../store/read/capture-rows.ts';
import { capturesWithUnread, unreadRowsOf } from '../store/unread.ts';

// One transaction decodes this many rows of a few kB each, so that other writers get their turn in between.
const rowsPerTransaction = 16;

/**
 * Recovers the captures whose recording process is gone: they become interrupted, and raw bytes that were not decoded become lines.
 *
 * @param self    the calling host, whose own captures are left alone
 * @param wallMs  now, epoch milliseconds
 */
export function recoverOrphans(db: Database, self: Owner, wallMs: number): void {
  interruptOrphans(db, self, wallMs);
  for (const capture of capturesWithUnread(db)) decodeUnread(db, capture);
}

/** Bytes of one port in, entries out. */
interface PortDecoder {
  push(bytes: Uint8Array, elapsedS: number): void;
  /** Emits what is left of a run without line ending, which is not in the store anymore once its row is removed. */
  flush(): void;
}

function decodeUnread(db: Database, capture: number): void {
  const meters = metersOf(db, capture);
  const entries: Entry[] = [];
  const decoders = new Map<string, PortDecoder>();
  const decoderOf = (port: string): PortDecoder => {
    let decoder = decoders.get(port);
    if (!decoder) decoders.set(port, (decoder = createPortDecoder(port, meters, (entry) => entries.push(entry))));
    return decoder;
  };
  const nextRows = () => unreadRowsOf(db, capture, rowsPerTransaction);
  try {
    const appender = createAppender(db, capture, undefined);
    for (let rows = nextRows(); rows.length > 0; rows = nextRows()) {
      for (const { port, bytes, elapsedS } of rows) decoderOf(port).push(bytes, elapsedS);
      for (const decoder of decoders.values()) decoder.flush();
      appender.append([...entries.splice(0), { kind: 'backlog-read', row: rows.at(-1)!.row }]);
    }
  } catch (error) {
    // Another process has decoded it meanwhile, or has resumed the capture.
    if (!(error instanceof OwnershipLost)) throw error;
  }
}

/** Decodes as the meter on `port` was decoded; where that is not known the lines are stored without readings. */
function createPortDecoder(port: string, meters: readonly MeterFacts[], onEntry: (entry: Entry) => void): PortDecoder {
  const reads = meters.findLast((meter) => meter.port === port)?.reads;
  const profile = reads && checkProfile(reads, port);
  if (!profile?.ok) {
    let nowS = 0;
    const reader = createLineReader(({ bytes }) =>
      onEntry({ kind: 'line', elapsedS: nowS, port, bytes, readings: [] }),
    );
    return {
      push(bytes, elapsedS) {
        nowS = elapsedS;
        reader.push(bytes);
      },
      flush: reader.flush,
    };
  }
  const protocol = createLineProtocol(
    {
      port,
      profile: profile.value,
      clock: systemClock,
      onLine: ({ bytes, atMs, readings }) => onEntry({ kind: 'line', elapsedS: atMs / 1000, port, bytes, readings }),
    },
    () => true,
  );
  return { push: (bytes, elapsedS) => protocol.push(bytes, elapsedS * 1000), flush: () => protocol.flush() };
}
