import type { ByteSource } from '../meter/byte-intake.ts';
import { createLineEndingNormalizer, maxRunBytes } from '../protocol/line-endings.ts';

/** A row of the store with raw bytes that have not been decoded. */
export interface BacklogRow {
  /** Key of the capture. */
  capture: number;
  row: number;
}

/** Whole lines with their line endings, as they came. */
export interface Arrival {
  source: ByteSource;
  bytes: Buffer;
  /** Monotonic. */
  atMs: number;
  /** Once it is stored, until it has been decoded. */
  storedAs?: BacklogRow;
}

/**
 * Bytes of all ports that have not been decoded, in the order of arrival. Each arrival begins and ends at a line ending (but for a run
 * of `maxRunBytes` bytes without one): when it is decoded from the store after a kill, no tail of a line is taken for a line.
 */
export interface RawBacklog {
  /** Passes bytes on to their source at once. For use while the backlog is empty. */
  passThrough(source: ByteSource, bytes: Uint8Array, atMs: number): void;
  add(source: ByteSource, bytes: Uint8Array, atMs: number): void;
  first(): Arrival | undefined;
  removeFirst(): void;
  has(source: ByteSource): boolean;
  isEmpty(): boolean;
  /** Passes on the bytes of an unfinished line. */
  release(source: ByteSource): void;
  all(): readonly Arrival[];
  /** In bytes. */
  size(): number;
}

const newline = 0x0a;

interface SourceState {
  /** Common to all bytes of the source: a line that ends in CR must not wait for the LF of another. */
  normalize(chunk: Uint8Array): Buffer;
  /** What was passed on last is in the middle of a line. */
  isMidLine: boolean;
  /** The bytes of an unfinished line. */
  partial: Buffer;
  partialMs: number;
  /** How many of its arrivals are in the backlog. */
  arrivals: number;
}

const noBytes = Buffer.alloc(0);

export function createRawBacklog(): RawBacklog {
  let arrivals: Arrival[] = [];
  let start = 0;
  let size = 0;
  const states = new WeakMap<ByteSource, SourceState>();
  const stateOf = (source: ByteSource): SourceState => {
    let state = states.get(source);
    if (!state)
      states.set(
        source,
        (state = {
          normalize: createLineEndingNormalizer(),
          isMidLine: false,
          partial: noBytes,
          partialMs: 0,
          arrivals: 0,
        }),
      );
    return state;
  };

  const passOn = (source: ByteSource, bytes: Uint8Array, atMs: number) => {
    if (bytes.length === 0) return;
    stateOf(source).isMidLine = bytes.at(-1) !== newline;
    source.push(bytes, atMs);
  };

  const release = (source: ByteSource) => {
    const state = stateOf(source);
    const { partial } = state;
    state.partial = noBytes;
    passOn(source, partial, state.partialMs);
  };

  /** Finishes a line whose beginning was passed on before; gives what is behind it. */
  const finishLine = (source: ByteSource, bytes: Buffer, atMs: number): Buffer => {
    if (!stateOf(source).isMidLine) return bytes;
    const end = bytes.indexOf(newline) + 1 || bytes.length;
    passOn(source, bytes.subarray(0, end), atMs);
    return bytes.subarray(end);
  };

  return {
    passThrough(source, bytes, atMs) {
      release(source);
      passOn(source, stateOf(source).normalize(bytes), atMs);
    },
    add(source, bytes, atMs) {
      const state = stateOf(source);
      const rest = finishLine(source, state.normalize(bytes), atMs);
      const run = state.partial.length > 0 ? Buffer.concat([state.partial, rest]) : rest;
      // A long run without a line ending is no line: it is cut anyway.
      const end = run.lastIndexOf(newline) + 1 || (run.length < maxRunBytes ? 0 : run.length);
      state.partial = run.subarray(end);
      state.partialMs = atMs;
      if (end === 0) return;
      arrivals.push({ source, bytes: run.subarray(0, end), atMs });
      state.arrivals += 1;
      size += end;
    },
    first: () => arrivals[start],
    removeFirst() {
      const first = arrivals[start];
      if (!first) return;
      size -= first.bytes.length;
      stateOf(first.source).arrivals -= 1;
      start += 1;
      if (start < 1000 && start < arrivals.length) return;
      arrivals = arrivals.slice(start);
      start = 0;
    },
    has: (source) => stateOf(source).arrivals > 0,
    isEmpty: () => start === arrivals.length,
    release,
    all: () => arrivals.slice(start),
    size: () => size,
  };
}
