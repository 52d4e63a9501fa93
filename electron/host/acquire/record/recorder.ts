import type { Mark } from '../../../../shared/model/capture.ts';
import type { Fault } from '../../../../shared/model/faults.ts';
import { fault } from '../../../../shared/model/faults.ts';
import type { Clock } from '../../clock.ts';
import type { Outcome } from '../../../../shared/model/outcome.ts';
import { fail, ok } from '../../../../shared/model/outcome.ts';
import type { Entry } from '../../store/append.ts';
import type { MeterLine } from '../meter/meter.ts';
import { mostAtOnce, mostInOneGo, mostUnread, muchAtOnceBytes, batchSizeOf } from './batch-size.ts';
import type { Target, WriterContext } from './store-writer.ts';
import { createStoreWriter } from './store-writer.ts';
import type { Timing } from '../protocol/timing.ts';
import type { Intake } from '../meter/byte-intake.ts';
import type { Arrival, Kept } from './raw-backlog.ts';
import { createRawBacklog } from './raw-backlog.ts';
import type { PendingEntry } from './pending-entries.ts';
import { elapsedOf, endOfBatch, toEntries } from './pending-entries.ts';

/**
 * The way from a port to the store and only then to people: bytes become lines, lines are gathered for `batchMs`, stored in one
 * transaction, then published. When the store refuses (disk full), everything waits in memory, in order, and is tried again.
 *
 * Bytes that come faster than lines can be read and stored are stored first, unread: in time, and safe from a kill.
 */
export interface Recorder extends Intake {
  /** A line that arrived. Never refused, never dropped. */
  accept(line: MeterLine): void;
  /** Puts a mark on the time line, in order with the lines; nothing when nothing is being recorded. */
  mark(mark: Mark): void;
  target(): Target | undefined;
  /** Seconds since elapsed 0 of the recording. */
  elapsedS(): number;
  /** Monotonic time of the first line that is held back for the recording to begin with. */
  heldSinceMs(): number | undefined;
  /** From now on lines go into `target`. */
  begin(target: Target): void;
  /** Ends the recording once everything is stored, and gives what was recorded; when the store refuses it goes on, with its fault. */
  end(): Outcome<Target | undefined>;
  /** What waits in memory, as it will be stored. Everything that came is read for that. */
  waiting(): Entry[];
  /** How many lines wait, of those that have been read. */
  waitingCount(): number;
  /** Ends the recording without what waits: somebody has put that in safety elsewhere. */
  letGo(): void;
  /** Why lines are waiting in memory, if they are. */
  trouble(): Fault | undefined;
  stop(): void;
}

interface Surroundings extends Omit<WriterContext, 'waiting'> {
  clock: Clock;
  timing: Timing;
  /** Whether what comes before the first recording waits for it, instead of being only shown. */
  holdsBack: boolean;
  /** Lines have been dealt with and may be shown. `stored` is how many entries went into the store. */
  onPublished(lines: readonly MeterLine[], stored: number): void;
}

export function createRecorder({ clock, timing, holdsBack, onPublished, ...around }: Surroundings): Recorder {
  const waiting: PendingEntry[] = [];
  const writer = createStoreWriter({ ...around, waiting: () => waiting.length });
  const unread = createRawBacklog();
  let arrivedSince = 0;
  /** Where the store keeps what is being read just now. */
  let reading: Kept | undefined;
  let isHeldBack = holdsBack;
  let timer: NodeJS.Timeout | undefined;

  const schedule = (ms: number) => {
    timer ??= setTimeout(() => {
      timer = undefined;
      go();
    }, ms);
  };

  const tryAgain = () => schedule(writer.trouble() ? timing.storeRetryMs : timing.batchMs);

  /** Stores and publishes what waits, at most `most`; false when the store refused some of it. */
  const flush = (most = Infinity): boolean => {
    let done = 0;
    const until = Math.min(waiting.length, most);
    while (done < until) {
      const some = waiting.slice(done, endOfBatch(waiting, done, Math.min(mostAtOnce, until - done)));
      if (!writer.write((into) => void into.appender.append(toEntries(some, into)))) break;
      done += some.length;
      onPublished(
        some.flatMap((item) => (item.kind === 'line' ? [item.line] : [])),
        writer.target() ? some.length : 0,
      );
    }
    waiting.splice(0, done);
    if (done < until) tryAgain();
    else if (waiting.length === 0) writer.caughtUp();
    return done >= until;
  };

  /** Puts in safety what cannot be read yet; false when the store refused it. */
  const keepUnread = (): boolean => {
    const kept = writer.write((into) => {
      const fresh = unread.all().filter((arrival) => !arrival.kept);
      if (fresh.length === 0) return;
      const rows = into.appender.keep(
        fresh.map(({ source, atMs, bytes }) => ({ elapsedS: elapsedOf(atMs, into.zeroMs), port: source.port, bytes })),
      );
      for (const [i, arrival] of fresh.entries()) arrival.kept = { capture: into.key, row: rows[i]! };
    });
    if (!kept) tryAgain();
    return kept;
  };

  /** Has the oldest bytes read while fewer than `most` lines wait, as long as `wanted` says so. */
  const readOn = (most = Infinity, wanted: (arrival: Arrival) => boolean = () => true) => {
    for (let first = unread.first(); first && waiting.length < most && wanted(first); first = unread.first()) {
      const { source, bytes, atMs, kept } = first;
      reading = kept;
      source.take(bytes, atMs);
      reading = undefined;
      if (kept) waiting.push({ kind: 'read', kept });
      unread.dropFirst();
    }
  };

  /** One turn of storing: what came is put in safety first. */
  const go = () => {
    if (isHeldBack) return;
    const { lines, pauseMs } = batchSizeOf(unread.size(), arrivedSince);
    arrivedSince = 0;
    // Only what the store keeps already can wait.
    const unsafe = waiting.findLastIndex((item) => item.kind === 'line' && !item.kept) + 1;
    if (!keepUnread() || !flush(Math.max(lines, Math.min(unsafe, mostInOneGo)))) return;
    if (waiting.length > 0 || !unread.isEmpty()) schedule(pauseMs);
    readOn(lines);
  };

  return {
    arrive(source, bytes, atMs) {
      arrivedSince += bytes.length;
      const isMuch = waiting.length >= mostAtOnce || bytes.length > muchAtOnceBytes;
      if (unread.isEmpty() && !(isMuch && writer.target())) {
        unread.pass(source, bytes, atMs);
        return;
      }
      unread.add(source, bytes, atMs);
      if (unread.size() >= mostUnread && !writer.isRefused()) go();
      else schedule(timing.batchMs);
    },
    settle(source) {
      readOn(Infinity, () => unread.has(source));
      unread.release(source);
    },
    isUnread: (source) => unread.has(source),
    accept(line) {
      waiting.push({ kind: 'line', line, kept: reading });
      schedule(timing.batchMs);
    },
    mark(mark) {
      if (!writer.target()) return;
      waiting.push({ kind: 'mark', mark, kept: reading });
      if (!writer.isRefused() && !reading) flush();
    },
    target: () => writer.target(),
    elapsedS() {
      const target = writer.target();
      return target ? elapsedOf(clock.monotonicMs(), target.zeroMs) : 0;
    },
    heldSinceMs() {
      const [first] = waiting;
      return isHeldBack && first?.kind === 'line' ? first.line.atMs : undefined;
    },
    begin(next) {
      if (!isHeldBack) flush(); // what came before the start is shown, not stored
      isHeldBack = false;
      writer.aim(next);
      if (waiting.length > 0) schedule(0);
    },
    end() {
      readOn();
      if (!flush())
        return fail(writer.trouble() ?? fault('store-unavailable', { file: around.storeFile, reason: 'it is busy' }));
      const ended = writer.target();
      writer.aim(undefined);
      return ok(ended);
    },
    waiting() {
      readOn();
      const target = writer.target();
      return target ? toEntries(waiting, target) : [];
    },
    waitingCount: () => waiting.length,
    letGo() {
      readOn();
      writer.aim(undefined);
      flush();
    },
    trouble: () => writer.trouble(),
    stop: () => clearTimeout(timer),
  };
}
