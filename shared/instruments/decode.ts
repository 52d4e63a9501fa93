import type { Profile } from '../model/profile.ts';
import type { Unit } from '../model/reading.ts';
import type { Channel, Decoded } from './decoded.ts';
import { allUnreadable, flagged, maxLineLength, readingOf } from './decoded.ts';
import { createHexDecoder } from './modbus/hex.ts';
import { compilePattern } from './pattern/compile-pattern.ts';
import { isOverload, readNumber } from './read-number.ts';
import { createScpiDecoder } from './scpi.ts';

export type { Decoded } from './decoded.ts';

// Control characters (NUL, escapes) around the text are line noise, like blanks; a tab may be a delimiter. In the middle of a
// number they may have replaced a digit.
// oxlint-disable-next-line no-control-regex
const noise = /[\u0000-\u0008\u000a-\u001f\u007f]+/g;
// oxlint-disable-next-line no-control-regex
const noiseInNumber = /(?<=[\d.,])[\u0000-\u0008\u000a-\u001f\u007f]+(?=[\d.,])/g;

/**
 * The decoder of one meter's lines: text without its line ending in, one reading for each channel in the line out.
 *
 * An empty line gives nothing. Any other line gives at least one reading, flagged where no number could be read:
 * no line of a meter is ignored. Decoding is synchronous and its time is bounded by line and pattern length.
 *
 * @param profile  must have passed `checkProfile`; throws when its pattern does not compile
 */
export function createLineDecoder(profile: Profile): (line: string) => Decoded[] {
  const decode = formatDecoder(profile);
  return (line) => {
    if (line.trim() === '') return [];
    if (line.length > maxLineLength) return profile.channels.map((channel) => flagged(channel, 'too-long'));
    const text = line.replaceAll(noiseInNumber, '\ufffd').replaceAll(noise, ' ');
    const readings = text.trim() === '' ? [] : decode(text);
    return readings.length > 0 ? readings : allUnreadable(profile);
  };
}

function formatDecoder(profile: Profile): (text: string) => Decoded[] {
  const { line, channels, overload } = profile;
  if (line.format === 'scpi') return createScpiDecoder(profile);
  if (line.format === 'modbus-rtu') return createHexDecoder(profile);
  const findTexts = createTextFinder(line, (text) => channels.length === 1 && isOverload(text, overload));
  return (text) => {
    const textOf = findTexts(text);
    return channels.flatMap((channel) => {
      const channelText = textOf(channel);
      return channelText === undefined ? [] : [decodeChannel(channelText, channel, overload)];
    });
  };
}

function decodeChannel(text: string, channel: Channel, overload: readonly string[]): Decoded {
  const read = readNumber(text, channel.role, channel.unit as Unit, overload);
  return 'flag' in read ? flagged(channel, read.flag) : readingOf(channel, read.value, read.convertedFrom);
}

/** Finds in a line the text of each channel; undefined when the line does not contain that channel. */
type TextFinder = (line: string) => (channel: Channel) => string | undefined;

function createTextFinder(
  format: Exclude<Profile['line'], { format: 'scpi' | 'modbus-rtu' }>,
  isOverloadLine: (line: string) => boolean,
): TextFinder {
  switch (format.format) {
    case 'number':
      return (line) => () => line;
    case 'delimited': {
      const blank = format.delimiter.trim() === '' && !format.delimiter.includes('\t');
      return (line) => {
        // Columns separated by blanks are padded: a run of blanks is one delimiter.
        const fields = blank ? line.trim().split(/ +/) : line.split(format.delimiter);
        return (channel) => {
          const field = fields[channel.field ?? 0];
          // A missing field was cut off (flagged); an empty one means that there was no reading.
          return field === undefined ? '' : field.trim() === '' ? undefined : field;
        };
      };
    }
    case 'pattern': {
      const compiled = compilePattern(format.pattern);
      if (!compiled.ok) throw new Error(`pattern must have been checked: ${compiled.problem}`);
      return (line) => {
        const groups = compiled.pattern.match(line);
        // A pattern for numbers does not match the overload text in their place.
        if (!groups && isOverloadLine(line)) return () => line;
        return (channel) => groups?.get(channel.role);
      };
    }
  }
}
