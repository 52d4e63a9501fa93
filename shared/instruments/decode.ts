import type { Profile } from '../model/profile.ts';
import type { Flag, Role, Unit } from '../model/reading.ts';
import { compilePattern } from './pattern/compile.ts';
import { matchPattern } from './pattern/match.ts';
import { parsePattern } from './pattern/parse.ts';
import { readNumber } from './read-number.ts';

/** One reading of a line, not yet stamped. `value` is NaN exactly when `flag` is set. */
export interface Decoded {
  role: Role;
  unit: Unit;
  value: number;
  flag?: Flag;
}

type Channel = Profile['channels'][number];

/** Lines over this are flagged and never matched: no meter prints so much, and it bounds the work of one line. */
export const longestLine = 512;

const flagged = (channel: Channel, flag: Flag): Decoded => ({
  role: channel.role,
  unit: channel.unit as Unit,
  value: Number.NaN,
  flag,
});

/**
 * The decoder of one meter's lines: text without its line end in, one reading for each channel that the line speaks of out.
 *
 * An empty line gives nothing. Any other line gives at least one reading, flagged where no number could be taken:
 * nothing that a meter said goes by unseen. Decoding is synchronous and its time is bounded by line and pattern length.
 *
 * @param profile  must have passed `checkProfile`; a pattern that does not compile throws here
 */
export function createLineDecoder(profile: Profile): (line: string) => Decoded[] {
  const texts = textsOf(profile);
  return (line) => {
    // Control characters (NUL, CR, escapes) are line noise around the text, as blanks are; a tab may be a delimiter.
    // oxlint-disable-next-line no-control-regex
    const text = line.replaceAll(/[\u0000-\u0008\u000a-\u001f\u007f]+/g, ' ');
    if (text.trim() === '') return line.trim() === '' ? [] : allUnreadable(profile);
    if (line.length > longestLine) return profile.channels.map((channel) => flagged(channel, 'too-long'));
    const found = texts(text);
    const readings: Decoded[] = [];
    for (const channel of profile.channels) {
      const own = found(channel);
      if (own !== undefined) readings.push(decodeChannel(own, channel, profile.overload));
    }
    return readings.length > 0 ? readings : allUnreadable(profile);
  };
}

const allUnreadable = (profile: Profile): Decoded[] =>
  profile.channels.map((channel) => flagged(channel, 'unreadable'));

function decodeChannel(text: string, channel: Channel, overload: readonly string[]): Decoded {
  const unit = channel.unit as Unit;
  const read = readNumber(text, channel.role, unit, overload);
  if ('flag' in read) return flagged(channel, read.flag);
  // What instruments send for "beyond my range" where they send numbers only: 9.9E37 (IEEE 488.2, SCPI 1999; from memory).
  if (Math.abs(read.value) >= 9.9e37) return flagged(channel, 'overload');
  const value = channel.scale * read.value + channel.offset;
  return Number.isFinite(value) ? { role: channel.role, unit, value } : flagged(channel, 'unreadable');
}

/** For a line: where each channel finds its own text; undefined when this line does not speak of it. */
type Texts = (line: string) => (channel: Channel) => string | undefined;

function textsOf(profile: Profile): Texts {
  const format = profile.line;
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
      const parsed = parsePattern(format.pattern);
      if (!parsed.ok) throw new Error(`pattern must have been checked: ${parsed.problem}`);
      const compiled = compilePattern(parsed.node, parsed.groups);
      if (!compiled.ok) throw new Error(`pattern must have been checked: ${compiled.problem}`);
      return (line) => {
        const groups = matchPattern(compiled.program, line);
        return (channel) => groups?.get(channel.role);
      };
    }
  }
}
