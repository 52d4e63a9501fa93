import type { Profile } from '../model/profile.ts';
import type { Unit } from '../model/reading.ts';
import type { Channel, Decoded } from './decoded.ts';
import { allUnreadable, flagged, longestLine, readingOf } from './decoded.ts';
import { createHexReader } from './modbus/hex.ts';
import { compilePattern } from './pattern/compile-pattern.ts';
import { isOverload, readNumber } from './read-number.ts';
import { createResponseReader } from './scpi.ts';

export type { Decoded } from './decoded.ts';

// Control characters (NUL, escapes) are line noise around the text, as blanks are; a tab may be a delimiter. In the middle of a
// number they stand where a digit may have been.
// oxlint-disable-next-line no-control-regex
const noise = /[\u0000-\u0008\u000a-\u001f\u007f]+/g;
// oxlint-disable-next-line no-control-regex
const noiseInNumber = /(?<=[\d.,])[\u0000-\u0008\u000a-\u001f\u007f]+(?=[\d.,])/g;

/**
 * The decoder of one meter's lines: text without its line end in, one reading for each channel that the line speaks of out.
 *
 * An empty line gives nothing. Any other line gives at least one reading, flagged where no number could be taken:
 * nothing that a meter said goes by unseen. Decoding is synchronous and its time is bounded by line and pattern length.
 *
 * @param profile  must have passed `checkProfile`; a pattern that does not compile throws here
 */
export function createLineDecoder(profile: Profile): (line: string) => Decoded[] {
  const read = readerOf(profile);
  return (line) => {
    if (line.trim() === '') return [];
    if (line.length > longestLine) return profile.channels.map((channel) => flagged(channel, 'too-long'));
    const text = line.replaceAll(noiseInNumber, '\ufffd').replaceAll(noise, ' ');
    const readings = text.trim() === '' ? [] : read(text);
    return readings.length > 0 ? readings : allUnreadable(profile);
  };
}

function readerOf(profile: Profile): (text: string) => Decoded[] {
  const { line, channels, overload } = profile;
  if (line.format === 'scpi') return createResponseReader(profile);
  if (line.format === 'modbus-rtu') return createHexReader(profile);
  const texts = textsOf(line, (text) => channels.length === 1 && isOverload(text, overload));
  return (text) => {
    const found = texts(text);
    return channels.flatMap((channel) => {
      const own = found(channel);
      return own === undefined ? [] : [decodeChannel(own, channel, overload)];
    });
  };
}

function decodeChannel(text: string, channel: Channel, overload: readonly string[]): Decoded {
  const read = readNumber(text, channel.role, channel.unit as Unit, overload);
  return 'flag' in read ? flagged(channel, read.flag) : readingOf(channel, read.value, read.convertedFrom);
}

/** For a line: where each channel finds its own text; undefined when this line does not speak of it. */
type Texts = (line: string) => (channel: Channel) => string | undefined;

function textsOf(
  format: Exclude<Profile['line'], { format: 'scpi' | 'modbus-rtu' }>,
  saysOverload: (line: string) => boolean,
): Texts {
  switch (format.format) {
    case 'number':
      return (line) => () => line;
    case 'delimited': {
      const blank = format.delimiter.trim() === '' && !format.delimiter.includes('\t');
      return (line) => {
        // Columns set apart by blanks are padded: a run of them is one delimiter.
        const fields = blank ? line.trim().split(/ +/) : line.split(format.delimiter);
        return (channel) => {
          const field = fields[channel.field ?? 0];
          // A field that is missing was cut off (flagged); an empty one says that there was no reading.
          return field === undefined ? '' : field.trim() === '' ? undefined : field;
        };
      };
    }
    case 'pattern': {
      const compiled = compilePattern(format.pattern);
      if (!compiled.ok) throw new Error(`pattern must have been checked: ${compiled.problem}`);
      return (line) => {
        const groups = compiled.pattern.match(line);
        // A pattern made for numbers does not match the overload that stands in their place.
        if (!groups && saysOverload(line)) return () => line;
        return (channel) => groups?.get(channel.role);
      };
    }
  }
}
