import type { Mark } from '../../../shared/model/capture.ts';
import type { Fault } from '../../../shared/model/faults.ts';
import { fault } from '../../../shared/model/faults.ts';
import type { Clock } from '../clock.ts';
import type { Outcome } from '../../../shared/model/outcome.ts';
import { fail, ok } from '../../../shared/model/outcome.ts';
import type { Appender, Entry } from '../store/append.ts';
import { TakenOver } from '../store/append.ts';
import { storeFault } from '../store/store-fault.ts';
import type { MeterLine } from './meter.ts';
import type { Timing } from './timing.ts';

/** Where a recording goes. `zeroMs` is the monotonic time of elapsed 0. */
export interface Target {
  id: string;
  key: number;
  zeroMs: number;
  appender: Appender;
}

/**
 * The way from a port to the store and only then to people: lines are gathered for `batchMs`, stored in one transaction,
 * then published. When the store refuses (disk full), everything waits in memory, in order, and is tried again.
 */
export interface Recorder {
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

interface Surroundings {
  clock: Clock;
  timing: Timing;
  storeFile: string;
  /** Lines have been dealt with and may be shown. `stored` is how many entries went into the store. */
  onPublished(lines: readonly MeterLine[], stored: number): void;
  onTrouble(): void;
  /** Another host has taken up what was being recorded: gives a capture of our own for what comes now. May throw like the store. */
  onTakenOver(lost: Target): Target;
  onBug(name: string, error: unknown): void;
}

type Waiting = { kind: 'line'; line: MeterLine } | { kind: 'mark'; mark: Mark };

// After a long refusal the backlog goes out in pieces: what fits is safe at once, and between two goes the ports are read.
const mostAtOnce = 2000;
const mostInOneGo = 2 * mostAtOnce;
// Another process that writes just now is no news; one that goes on and on is.
const busyTolerated = 3;

export function createRecorder({
  clock,
  timing,
  storeFile,
  onPublished,
  onTrouble,
  onTakenOver,
  onBug,
}: Surroundings): Recorder {
  let target: Target | undefined;
  const waiting: Waiting[] = [];
  let timer: NodeJS.Timeout | undefined;
  let trouble: Fault | undefined;
  let refusals = 0;

  const toElapsedS = (atMs: number, { zeroMs }: Target): number => Math.max(0, (atMs - zeroMs) / 1000);

  const toEntry = (item: Waiting, into: Target): Entry =>
    item.kind === 'mark'
      ? item
      : {
          kind: 'line',
          elapsedS: toElapsedS(item.line.atMs, into),
          port: item.line.meter.port,
          bytes: item.line.bytes,
          readings: item.line.readings,
        };

  const schedule = (ms: number) => {
    timer ??= setTimeout(() => {
      timer = undefined;
      flush(mostInOneGo);
    }, ms);
  };

  const refused = (error: unknown) => {
    refusals += 1;
    // Of a capture that is another's now and cannot be left yet, the store will say why at the next try.
    let why =
      error instanceof TakenOver
        ? fault('store-unavailable', { file: storeFile, reason: 'it is busy' })
        : storeFault(error, storeFile, waiting.length);
    if (!why) {
      onBug('recorder', error);
      why = fault('internal', { what: 'storing lines' });
    }
    if (why.code !== 'store-unavailable' || refusals > busyTolerated) trouble = why;
    onTrouble();
    schedule(trouble ? timing.storeRetryMs : timing.batchMs);
  };

  /** Goes on in a capture of our own; false when the store refuses that too. */
  const moveOn = (lost: Target): boolean => {
    try {
      target = onTakenOver(lost);
      return true;
    } catch (error) {
      if (!storeFault(error, storeFile)) throw error;
      return false;
    }
  };

  /**
   * Stores and publishes what waits, at most `most`; false when the store refused some of it.
   */
  const flush = (most = Infinity): boolean => {
    let done = 0;
    const until = Math.min(waiting.length, most);
    while (done < until) {
      const some = waiting.slice(done, Math.min(until, done + mostAtOnce));
      const into = target;
      try {
        if (into) into.appender.append(some.map((item) => toEntry(item, into)));
      } catch (error) {
        if (into && error instanceof TakenOver && moveOn(into)) continue;
        waiting.splice(0, done);
        refused(error);
        return false;
      }
      done += some.length;
      onPublished(
        some.flatMap((item) => (item.kind === 'line' ? [item.line] : [])),
        into ? some.length : 0,
      );
    }
    waiting.splice(0, done);
    refusals = 0;
    if (waiting.length > 0) schedule(0);
    else if (trouble) {
      trouble = undefined;
      onTrouble();
    }
    return true;
  };

  return {
    accept(line) {
      waiting.push({ kind: 'line', line });
      schedule(timing.batchMs);
    },
    mark(mark) {
      if (!target) return;
      waiting.push({ kind: 'mark', mark });
      if (refusals === 0) flush();
    },
    target: () => target,
    elapsedS: () => (target ? toElapsedS(clock.monotonicMs(), target) : 0),
    begin(next) {
      flush(); // what came before the start is shown, not stored
      target = next;
    },
    end() {
      if (!flush()) return fail(trouble ?? fault('store-unavailable', { file: storeFile, reason: 'it is busy' }));
      const ended = target;
      target = undefined;
      return ok(ended);
    },
    waiting: () => {
      const into = target;
      return into ? waiting.map((item) => toEntry(item, into)) : [];
    },
    letGo() {
      target = undefined;
      flush();
    },
    trouble: () => trouble,
    stop: () => clearTimeout(timer),
  };
}
