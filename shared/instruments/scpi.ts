import type { Profile } from '../model/profile.ts';
import type { Decoded } from './decoded.ts';
import { flagged, readingOf } from './decoded.ts';
import { isOverload } from './read-number.ts';

// NR1 (IEEE 488.2-1992, 8.7.2) digits; NR2 (8.7.3) with a point and digits on both sides; NR3 (8.7.4) the same with an
// exponent behind a capital E. The standard requires a sign in the exponent; SCPI itself writes 9.9E37, so none is accepted, too.
const numericResponse = /^[+-]?\d+(?:\.\d+(?:E[+-]?\d+)?)?$/;

/**
 * Numbers separated by commas (response data separator, IEEE 488.2-1992, 8.4.2) or semicolons (response message unit
 * separator, 8.4.1); clause numbers of the separators from memory. Each channel takes its own field, by default the
 * one at its position. A field that is not numeric response data is flagged: no number is searched inside of it.
 */
export function createScpiDecoder({ channels, overload }: Profile): (line: string) => Decoded[] {
  return (line) => {
    // Strings (8.7.8, 8.7.9) and blocks (8.7.10) may contain separators themselves: then no position is reliable.
    const fields = /["'#]/.test(line) ? [] : line.split(/[,;]/).map((field) => field.trim());
    return channels.map((channel, position) => {
      const field = fields[channel.field ?? position] ?? '';
      if (isOverload(field, overload)) return flagged(channel, 'overload');
      return numericResponse.test(field) ? readingOf(channel, Number(field)) : flagged(channel, 'unreadable');
    });
  };
}
