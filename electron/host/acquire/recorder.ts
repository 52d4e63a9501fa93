import type { Mark } from '../../../shared/model/capture.ts';
import type { Fault } from '../../../shared/model/faults.ts';
import { fault } from '../../../shared/model/faults.ts';
import type { Clock } from '../clock.ts';
import type { Outcome } from '../../../shared/model/outcome.ts';
import { fail, ok } from '../../../shared/model/outcome.ts';
import type { Entry } from '../store/append.ts';
import type { MeterLine } from './meter.ts';
import type { Target, WriterSurroundings } from './store-writer.ts';
import { createStoreWriter } from './store-writer.ts';
import type { Timing } from './timing.ts';
import type { Arrival, Intake } from './unread-queue.ts';
import { createUnreadQueue } from './unread-queue.ts';
import type { Waiting } from './waiting.ts';
import { elapsedOf, endOfBatch, toEntries } from './waiting.ts';

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
  /** From now on lines go into `target`. */
  begin(target: Target): void;
  /** Ends the recording once everything is stored, and gives what was recorded; when the store refuses it goes on, with its fault. */
  end(): Outcome<Target | undefined>;
  /** What waits in memory, as it will be stored. */
  waiting(): Entry[];
  /** Ends the recording without what waits: somebody has put that in safety elsewhere. */
  letGo(): void;
  /** Why lines are waiting in memory, if they are. */
  trouble(): Fault | undefined;
  stop(): void;
}

interface Surroundings extends Omit<WriterSurroundings, 'waiting'> {
  clock: Clock;
  timing: Timing;
  /** Lines have been dealt with and may be shown. `stored` is how many entries went into the store. */
  onPublished(lines: readonly MeterLine[], stored: number): void;
}

// After a long refusal the backlog goes out in pieces: what fits is safe at once, and between two goes the ports are read.
const mostAtOnce = 2000;
const mostInOneGo = 2 * mostAtOnce;
// While bytes come on top of those that wait, a turn is short and is followed by a pause, in which they are taken in. When more than
// `floodBytes` come between two turns, more than can be read meanwhile, taking them in has most of the time.
const whileMoreComes = { lines: 1000, pauseMs: 10 };
const inFlood = { lines: 100, pauseMs: 20 };
const floodBytes = 16 * 1024;
// So much at once is not read as it comes.
const muchAtOnceBytes = 16 * 1024;
// More bytes than this do not wait in memory: what comes then has to wait for the reading. No serial line fills it.
const mostUnread = 64 * 2 ** 20;

export function createRecorder({ clock, timing, onPublished, ...around }: Surroundings): Recorder {
  const waiting: Waiting[] = [];
  const writer = createStoreWriter({ ...around, waiting: () => waiting.length });
  const unread = createUnreadQueue();
  let arrivedSince = 0;
  let readingKept = false;
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
      // What the store has kept in a capture that another host took up since is that one's to read.
      const fresh = unread.all().filter(({ kept: at }) => at?.capture !== into.key);
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
      readingKept = kept !== undefined;
      source.take(bytes, atMs);
      readingKept = false;
      if (kept) waiting.push({ kind: 'read', ...kept });
      unread.dropFirst();
    }
  };

  /** How much is read and stored in this turn, and how long the ports have the time until the next. */
  const pace = (): { lines: number; pauseMs: number } => {
    if (unread.isEmpty() || arrivedSince === 0) return { lines: mostInOneGo, pauseMs: 0 };
    return arrivedSince > floodBytes && unread.size() < mostUnread ? inFlood : whileMoreComes;
  };

  /** One turn of storing: what came is put in safety first. */
  const go = () => {
    const { lines, pauseMs } = pace();
    arrivedSince = 0;
    // Only what the store keeps already can wait.
    const unsafe = waiting.findLastIndex((item) => item.kind === 'line' && !item.isKept) + 1;
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
      waiting.push({ kind: 'line', line, isKept: readingKept });
      schedule(timing.batchMs);
    },
    mark(mark) {
      if (!writer.target()) return;
      waiting.push({ kind: 'mark', mark });
      if (!writer.isRefused()) flush();
    },
    target: () => writer.target(),
    elapsedS() {
      const target = writer.target();
      return target ? elapsedOf(clock.monotonicMs(), target.zeroMs) : 0;
    },
    begin(next) {
      flush(); // what came before the start is shown, not stored
      writer.aim(next);
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
    letGo() {
      readOn();
      writer.aim(undefined);
      flush();
    },
    trouble: () => writer.trouble(),
    stop: () => clearTimeout(timer),
  };
}
