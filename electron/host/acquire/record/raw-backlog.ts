import type { Source } from '../meter/byte-intake.ts';
import { createReturnReader, longestRun } from '../protocol/line-endings.ts';

/** Where the store keeps what has not been read. */
export interface Kept {
  capture: number;
  row: number;
}

/** Whole lines with their line ends, as they came. */
export interface Arrival {
  source: Source;
  bytes: Buffer;
  /** Monotonic. */
  atMs: number;
  /** Until it has been read. */
  kept?: Kept;
}

/**
 * Bytes that wait to be read, of all ports in the order of arrival. What waits begins and ends at a line end (but for a run of
 * `longestRun` bytes without one): read anew after a kill, from the store, no tail of a line is taken for a line.
 */
export interface RawBacklog {
  /** Passes bytes on to be read now. For use while nothing waits. */
  pass(source: Source, bytes: Uint8Array, atMs: number): void;
  add(source: Source, bytes: Uint8Array, atMs: number): void;
  first(): Arrival | undefined;
  dropFirst(): void;
  has(source: Source): boolean;
  isEmpty(): boolean;
  /** Passes on the beginning of a line that was held back. */
  release(source: Source): void;
  all(): readonly Arrival[];
  /** How many bytes wait. */
  size(): number;
}

const newline = 0x0a;

interface Tail {
  /** A line that ends in CR must not wait for the LF of another. */
  unified(chunk: Uint8Array): Buffer;
  /** What was passed on last is in the middle of a line. */
  midLine: boolean;
  /** The beginning of a line whose end has not come. */
  held: Buffer;
  heldMs: number;
  /** How many of its arrivals wait. */
  waiting: number;
}

const nothing = Buffer.alloc(0);

export function createRawBacklog(): RawBacklog {
  let arrivals: Arrival[] = [];
  let begin = 0;
  let size = 0;
  const tails = new WeakMap<Source, Tail>();
  const tailOf = (source: Source): Tail => {
    let tail = tails.get(source);
    if (!tail)
      tails.set(
        source,
        (tail = { unified: createReturnReader(), midLine: false, held: nothing, heldMs: 0, waiting: 0 }),
      );
    return tail;
  };

  const takeNow = (source: Source, bytes: Uint8Array, atMs: number) => {
    if (bytes.length === 0) return;
    tailOf(source).midLine = bytes.at(-1) !== newline;
    source.take(bytes, atMs);
  };

  const release = (source: Source) => {
    const tail = tailOf(source);
    const { held } = tail;
    tail.held = nothing;
    takeNow(source, held, tail.heldMs);
  };

  /** A line that was begun before is ended at once; gives what is behind it. */
  const endLine = (source: Source, bytes: Buffer, atMs: number): Buffer => {
    if (!tailOf(source).midLine) return bytes;
    const end = bytes.indexOf(newline) + 1 || bytes.length;
    takeNow(source, bytes.subarray(0, end), atMs);
    return bytes.subarray(end);
  };

  return {
    pass(source, bytes, atMs) {
      release(source);
      takeNow(source, tailOf(source).unified(bytes), atMs);
    },
    add(source, bytes, atMs) {
      const tail = tailOf(source);
      const rest = endLine(source, tail.unified(bytes), atMs);
      const run = tail.held.length > 0 ? Buffer.concat([tail.held, rest]) : rest;
      // A long run without line end is no line: it is cut anyway.
      const end = run.lastIndexOf(newline) + 1 || (run.length < longestRun ? 0 : run.length);
      tail.held = run.subarray(end);
      tail.heldMs = atMs;
      if (end === 0) return;
      arrivals.push({ source, bytes: run.subarray(0, end), atMs });
      tail.waiting += 1;
      size += end;
    },
    first: () => arrivals[begin],
    dropFirst() {
      const first = arrivals[begin];
      if (!first) return;
      size -= first.bytes.length;
      tailOf(first.source).waiting -= 1;
      begin += 1;
      if (begin < 1000 && begin < arrivals.length) return;
      arrivals = arrivals.slice(begin);
      begin = 0;
    },
    has: (source) => tailOf(source).waiting > 0,
    isEmpty: () => begin === arrivals.length,
    release,
    all: () => arrivals.slice(begin),
    size: () => size,
  };
}
