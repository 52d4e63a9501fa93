import type { Decoded } from '../../../shared/instruments/decode.ts';
import { createLineDecoder } from '../../../shared/instruments/decode.ts';
import type { Profile } from '../../../shared/model/profile.ts';
import type { Clock } from '../clock.ts';
import { textOf } from '../store/raw-bytes.ts';
import { createLineReader } from './line-reader.ts';
import { mayBeMidLineMs } from './port.ts';
import type { Said, Talk } from './talk.ts';

interface Surroundings {
  profile: Profile;
  clock: Clock;
  onSaid(said: Said): void;
}

/** Talk with a meter that sends lines of text, by itself or when the profile's poll asks. */
export function createLineTalk({ profile, clock, onSaid }: Surroundings, beginsWhole: () => boolean): Talk {
  const decode = createLineDecoder(profile);
  let lastByteMs = clock.monotonicMs();
  let firstByteMs: number | undefined;
  let openedMs = lastByteMs;
  let firstLine = true;
  let polling: NodeJS.Timeout | undefined;

  const reader = createLineReader(({ bytes, partial }) => {
    const early = firstByteMs !== undefined && firstByteMs - openedMs < mayBeMidLineMs;
    const suspect = firstLine && early && profile.mode === 'stream' && !beginsWhole();
    firstLine = false;
    const { raw: text } = textOf(bytes);
    const readings = decode(text);
    // Half a number is a wrong number: of a partial line only the text is kept.
    onSaid({ bytes, text, atMs: lastByteMs, readings: partial || suspect ? readings.map(distrusted) : readings });
  });

  return {
    push(bytes, atMs) {
      lastByteMs = atMs;
      firstByteMs ??= lastByteMs;
      reader.push(bytes);
    },
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
