import type { Mark } from '../../../../shared/model/capture.ts';
import type { Fault } from '../../../../shared/model/faults.ts';
import { fault } from '../../../../shared/model/faults.ts';
import type { Outcome } from '../../../../shared/model/outcome.ts';
import { fail, ok } from '../../../../shared/model/outcome.ts';
import type { Clock } from '../../clock.ts';
import type { Entry } from '../../store/append.ts';
import type { ByteIntake } from '../meter/byte-intake.ts';
import type { MeterLine } from '../meter/meter.ts';
import type { Timing } from '../protocol/timing.ts';
import { batchSizeOf, burstBytes, maxBacklogBytes, maxBatchEntries, maxTurnEntries } from './batch-size.ts';
import type { PendingEntry } from './pending-entries.ts';
import { elapsedOf, endOfBatch, toEntries } from './pending-entries.ts';
import type { Arrival, BacklogRow } from './raw-backlog.ts';
import { createRawBacklog } from './raw-backlog.ts';
import type { Target, WriterContext } from './store-writer.ts';
import { createStoreWriter } from './store-writer.ts';

/**
 * The way from a port to the store and only then to people: bytes become lines, lines are gathered for `batchMs`, stored in one
 * transaction, then published. When the store refuses (disk full), everything stays in memory, in order, and is tried again.
 *
 * Bytes that come faster than lines can be decoded and stored are stored raw first: in time, and safe from a kill.
 */
export interface Recorder extends ByteIntake {
  /** A line that arrived. Never refused, never dropped. */
  accept(line: MeterLine): void;
  /** Puts a mark on the time line, in order with the lines; does nothing when nothing is being recorded. */
  mark(mark: Mark): void;
  target(): Target | undefined;
  /** Elapsed time of the recording, seconds; 0 when there is none. */
  elapsedS(): number;
  /** Monotonic time of the first line that is buffered until the recording starts. */
  bufferedSinceMs(): number | undefined;
  /** From now on lines go into `target`. */
  start(target: Target): void;
  /** Ends the recording once everything is stored, and gives what was recorded; when the store refuses it continues, and fails with the store's fault. */
  finish(): Outcome<Target | undefined>;
  /** The entries in memory that have not been stored. Decodes the whole backlog first. */
  pending(): Entry[];
  /** Marks in memory that have not been stored: while the disk is full they are known only here. */
  pendingMarks(): Mark[];
  /** How many decoded entries have not been stored. */
  pendingCount(): number;
  /** Ends the recording without storing the pending entries: they are safe elsewhere. */
  discardPending(): void;
  /** Why entries are pending in memory, if the store refuses them. */
  fault(): Fault | undefined;
  stop(): void;
}

interface RecorderContext extends Omit<WriterContext, 'pendingCount'> {
  clock: Clock;
  timing: Timing;
  /** Whether lines that come before the first recording are buffered for it, instead of being only shown. */
  buffersBeforeStart: boolean;
  /** Lines have been processed and may be shown. `stored` is how many entries went into the store. */
  onPublished(lines: readonly MeterLine[], stored: number): void;
}

export function createRecorder(context: RecorderContext): Recorder {
  const { clock, timing, onPublished } = context;
  const pending: PendingEntry[] = [];
  const writer = createStoreWriter({ ...context, pendingCount: () => pending.length });
  const backlog = createRawBacklog();
  let bytesSinceTurn = 0;
  /** The backlog row that is being decoded. */
  let readingRow: BacklogRow | undefined;
  let isBuffering = context.buffersBeforeStart;
  let timer: NodeJS.Timeout | undefined;

  const schedule = (ms: number) => {
    timer ??= setTimeout(() => {
      timer = undefined;
      runTurn();
    }, ms);
  };

  const retry = () => schedule(writer.fault() ? timing.storeRetryMs : timing.batchMs);

  /** Stores and publishes pending entries, at most `most`; false when the store refused some of them. */
  const flush = (most = Infinity): boolean => {
    let done = 0;
    const until = Math.min(pending.length, most);
    while (done < until) {
      const batch = pending.slice(done, endOfBatch(pending, done, Math.min(maxBatchEntries, until - done)));
      if (!writer.write((into) => void into.appender.append(toEntries(batch, into)))) break;
      done += batch.length;
      onPublished(
        batch.flatMap((item) => (item.kind === 'line' ? [item.line] : [])),
        writer.target() ? batch.length : 0,
      );
    }
    pending.splice(0, done);
    if (done < until) retry();
    else if (pending.length === 0) writer.allWritten();
    return done >= until;
  };

  /** Stores the raw bytes of the backlog; false when the store refused them. */
  const storeBacklog = (): boolean => {
    const isStored = writer.write((into) => {
      const unstored = backlog.all().filter((arrival) => !arrival.storedAs);
      if (unstored.length === 0) return;
      const rows = into.appender.appendUnread(
        unstored.map(({ source, atMs, bytes }) => ({
          elapsedS: elapsedOf(atMs, into.zeroMs),
          port: source.port,
          bytes,
        })),
      );
      for (const [i, arrival] of unstored.entries()) arrival.storedAs = { capture: into.key, row: rows[i]! };
    });
    if (!isStored) retry();
    return isStored;
  };

  /** Decodes the oldest bytes of the backlog while fewer than `most` entries are pending, as long as `isWanted` holds. */
  const readBacklog = (most = Infinity, isWanted: (arrival: Arrival) => boolean = () => true) => {
    for (let first = backlog.first(); first && pending.length < most && isWanted(first); first = backlog.first()) {
      const { source, bytes, atMs, storedAs } = first;
      readingRow = storedAs;
      source.push(bytes, atMs);
      readingRow = undefined;
      if (storedAs) pending.push({ kind: 'backlog-read', backlogRow: storedAs });
      backlog.removeFirst();
    }
  };

  /** One turn of storing: raw bytes first. */
  const runTurn = () => {
    if (isBuffering) return;
    const { lines, pauseMs } = batchSizeOf(backlog.size(), bytesSinceTurn);
    bytesSinceTurn = 0;
    // Only lines whose raw bytes are in the store can wait for a later turn.
    const unsafe = pending.findLastIndex((item) => item.kind === 'line' && !item.backlogRow) + 1;
    if (!storeBacklog() || !flush(Math.max(lines, Math.min(unsafe, maxTurnEntries)))) return;
    if (pending.length > 0 || !backlog.isEmpty()) schedule(pauseMs);
    readBacklog(lines);
  };

  return {
    receive(source, bytes, atMs) {
      bytesSinceTurn += bytes.length;
      const isOverloaded = pending.length >= maxBatchEntries || bytes.length > burstBytes;
      if (backlog.isEmpty() && !(isOverloaded && writer.target())) {
        backlog.passThrough(source, bytes, atMs);
        return;
      }
      backlog.add(source, bytes, atMs);
      if (backlog.size() >= maxBacklogBytes && !writer.isRefused()) runTurn();
      else schedule(timing.batchMs);
    },
    drain(source) {
      readBacklog(Infinity, () => backlog.has(source));
      backlog.release(source);
    },
    hasBacklog: (source) => backlog.has(source),
    accept(line) {
      pending.push({ kind: 'line', line, backlogRow: readingRow });
      schedule(timing.batchMs);
    },
    mark(mark) {
      if (!writer.target()) return;
      pending.push({ kind: 'mark', mark, backlogRow: readingRow });
      if (!writer.isRefused() && !readingRow) flush();
    },
    target: () => writer.target(),
    elapsedS() {
      const target = writer.target();
      return target ? elapsedOf(clock.monotonicMs(), target.zeroMs) : 0;
    },
    bufferedSinceMs() {
      const [first] = pending;
      return isBuffering && first?.kind === 'line' ? first.line.atMs : undefined;
    },
    start(target) {
      if (!isBuffering) flush(); // what came before the start is shown, not stored
      isBuffering = false;
      writer.setTarget(target);
      if (pending.length > 0) schedule(0);
    },
    finish() {
      // Piece by piece: the lines of a long backlog would fill the memory.
      do {
        readBacklog(maxTurnEntries);
        if (!flush())
          return fail(writer.fault() ?? fault('store-unavailable', { file: context.storeFile, reason: 'it is busy' }));
      } while (!backlog.isEmpty());
      const target = writer.target();
      writer.setTarget(undefined);
      return ok(target);
    },
    pending() {
      readBacklog();
      const target = writer.target();
      return target ? toEntries(pending, target) : [];
    },
    pendingMarks: () => pending.flatMap((entry) => (entry.kind === 'mark' ? [entry.mark] : [])),
    pendingCount: () => pending.length,
    discardPending() {
      readBacklog();
      writer.setTarget(undefined);
      flush();
    },
    fault: () => writer.fault(),
    stop: () => clearTimeout(timer),
  };
}
