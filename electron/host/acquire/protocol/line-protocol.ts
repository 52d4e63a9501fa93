import type { Decoded } from '../../../../shared/instruments/decode.ts';
import { createLineDecoder } from '../../../../shared/instruments/decode.ts';
import { maxLineLength } from '../../../../shared/instruments/decoded.ts';
import { fault } from '../../../../shared/model/faults.ts';
import { textOf } from '../../store/read/raw-bytes.ts';
import { partialLineMs } from '../ports/port.ts';
import { createLineReader } from './line-reader.ts';
import type { Protocol, ProtocolContext } from './protocol.ts';

// Endless bytes without a line ending are kept in pieces, or a kill would lose them. A piece is longer than any line that is
// read, or has taken longer than a line does at 300 baud. A meter that sends its line endings before its lines may be silent for long.
const endlessMs = 2000;
const longestLineMs = 10_000;

/**
 * Communication with a meter that sends lines of text, by itself or when the profile's poll asks.
 * @param startsOnNewLine  whether the connection's first bytes begin a line: see `OpenedPort`; asked when the first line has come
 */
export function createLineProtocol(
  { port, profile, clock, onLine }: ProtocolContext,
  startsOnNewLine: () => boolean,
): Protocol {
  const decode = createLineDecoder(profile);
  let lastByteMs = clock.monotonicMs();
  let firstByteMs: number | undefined;
  let openedMs = lastByteMs;
  let isFirstLine = true;
  let lineStartMs = lastByteMs;
  let isEndless = false;
  let polling: NodeJS.Timeout | undefined;

  const reader = createLineReader(({ bytes, partial }) => {
    const isEarly = firstByteMs !== undefined && firstByteMs - openedMs < partialLineMs;
    const maybePartial = isFirstLine && isEarly && profile.mode === 'stream' && !startsOnNewLine();
    isFirstLine = false;
    const { raw: text } = textOf(bytes);
    const readings = decode(text);
    // Half a number is a wrong number: of a partial line only the text is kept.
    onLine({
      bytes,
      text,
      atMs: lastByteMs,
      readings: partial || maybePartial ? readings.map(asUnreadable) : readings,
      ...(isEndless && { fault: fault('meter-endless', { port }) }),
    });
  });

  return {
    push(bytes, atMs) {
      lastByteMs = atMs;
      firstByteMs ??= lastByteMs;
      const pending = reader.pendingBytes();
      if (pending === 0) lineStartMs = atMs;
      reader.push(bytes);
      if (reader.pendingBytes() !== pending + bytes.length) lineStartMs = atMs; // a line has ended in between
      const lineMs = atMs - lineStartMs;
      isEndless = lineMs > longestLineMs || (lineMs > endlessMs && reader.pendingBytes() > maxLineLength);
      if (isEndless) reader.flush();
      isEndless = false;
    },
    flush: () => reader.flush(),
    lastReceivedMs: () => lastByteMs,
    open(write) {
      openedMs = clock.monotonicMs();
      const poll = profile.mode === 'poll' ? profile.poll : undefined;
      const send = poll?.send;
      if (poll && send !== undefined) polling = setInterval(() => write(send), poll.everyMs);
    },
    async close() {
      clearInterval(polling);
      await reader.close();
    },
  };
}

const asUnreadable = (reading: Decoded): Decoded => ({
  role: reading.role,
  unit: reading.unit,
  value: Number.NaN,
  flag: reading.flag ?? 'unreadable',
});
