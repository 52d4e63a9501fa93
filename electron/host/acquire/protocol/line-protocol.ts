import type { Decoded } from '../../../../shared/instruments/decode.ts';
import { createLineDecoder } from '../../../../shared/instruments/decode.ts';
import { longestLine } from '../../../../shared/instruments/decoded.ts';
import { fault } from '../../../../shared/model/faults.ts';
import { textOf } from '../../store/read/raw-bytes.ts';
import { createLineReader } from './line-reader.ts';
import { mayBeMidLineMs } from '../ports/port.ts';
import type { Protocol, ProtocolContext } from './protocol.ts';

// Bytes that go on and on without a line end are kept in pieces, lest a kill loses them. A piece is longer than any line that is
// read, or has taken longer than a line does at 300 baud. A meter that sends its line ends before its lines may be silent for long.
const endlessMs = 2000;
const longestLineMs = 10_000;

/** Talk with a meter that sends lines of text, by itself or when the profile's poll asks. */
export function createLineProtocol(
  { port, profile, clock, onSaid }: ProtocolContext,
  beginsWhole: () => boolean,
): Protocol {
  const decode = createLineDecoder(profile);
  let lastByteMs = clock.monotonicMs();
  let firstByteMs: number | undefined;
  let openedMs = lastByteMs;
  let firstLine = true;
  let lineBeganMs = lastByteMs;
  let isEndless = false;
  let polling: NodeJS.Timeout | undefined;

  const reader = createLineReader(({ bytes, partial }) => {
    const early = firstByteMs !== undefined && firstByteMs - openedMs < mayBeMidLineMs;
    const suspect = firstLine && early && profile.mode === 'stream' && !beginsWhole();
    firstLine = false;
    const { raw: text } = textOf(bytes);
    const readings = decode(text);
    // Half a number is a wrong number: of a partial line only the text is kept.
    onSaid({
      bytes,
      text,
      atMs: lastByteMs,
      readings: partial || suspect ? readings.map(distrusted) : readings,
      ...(isEndless && { trouble: fault('meter-endless', { port }) }),
    });
  });

  return {
    push(bytes, atMs) {
      lastByteMs = atMs;
      firstByteMs ??= lastByteMs;
      const held = reader.held();
      if (held === 0) lineBeganMs = atMs;
      reader.push(bytes);
      if (reader.held() !== held + bytes.length) lineBeganMs = atMs; // a line has ended in between
      const lastsMs = atMs - lineBeganMs;
      isEndless = lastsMs > longestLineMs || (lastsMs > endlessMs && reader.held() > longestLine);
      if (isEndless) reader.cut();
      isEndless = false;
    },
    cut: () => reader.cut(),
    heardMs: () => lastByteMs,
    begin(write) {
      openedMs = clock.monotonicMs();
      const poll = profile.mode === 'poll' ? profile.poll : undefined;
      const send = poll?.send;
      if (poll && send !== undefined) polling = setInterval(() => write(send), poll.everyMs);
    },
    async end() {
      clearInterval(polling);
      await reader.end();
    },
  };
}

const distrusted = (reading: Decoded): Decoded => ({
  role: reading.role,
  unit: reading.unit,
  value: Number.NaN,
  flag: reading.flag ?? 'unreadable',
});
