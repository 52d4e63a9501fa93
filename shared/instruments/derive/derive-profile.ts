import type { Profile } from '../../model/profile.ts';
import type { Role, Unit } from '../../model/reading.ts';
import { checkProfile } from '../check-profile.ts';
import { createLineDecoder } from '../decode.ts';
import { waysToRead } from './candidate-formats.ts';
import { labelBefore } from './line-label.ts';
import type { Comma, LinePart } from './line-tokens.ts';
import { partsOf } from './line-tokens.ts';
import { obeys } from './is-read-from.ts';
import type { Pointed } from './selection.ts';

/** One way to read the lines that agrees with everything that was pointed at. */
export interface Derived {
  line: Profile['line'];
  /** One for each role that was pointed at, `field` set where the format needs it; scale 1, offset 0. */
  channels: Profile['channels'];
  /** Of the lines that say anything: those of which each channel is read, or says overload. */
  linesRead: number;
  /** Those of which another number than the one meant would be read: one with another name before it. */
  linesWrong: number;
}

type Read = ReturnType<typeof createLineDecoder>;

/**
 * The ways to read `lines` that take every number from where it was pointed at, the best first: that which reads the most
 * lines and takes the fewest for something else, and of equals the simplest (one number a line; fields between separators; a
 * pattern of what stands around the numbers). Empty when no way agrees with what was pointed at.
 *
 * The ways are not believed but tried: other digits in the place that was pointed at must change the reading, and just so.
 *
 * @param lines    the lines at hand, without line ends
 * @param pointed  at least one; a role may be pointed at in several lines when these differ
 * @param overload words that mean beyond the meter's range, as in the profile
 */
export function deriveProfile(
  lines: readonly string[],
  pointed: readonly Pointed[],
  overload: readonly string[],
  comma: Comma,
): Derived[] {
  if (pointed.length === 0) return [];
  const speaking = lines.filter((line) => line.trim() !== '');
  const ways: Derived[] = [];
  for (const way of waysToRead(pointed, { overload, comma })) {
    const checked = checkProfile({ name: 'derived', ...way, overload: [...overload] }, 'derived');
    if (!checked.ok) continue;
    const read = createLineDecoder(checked.value);
    if (!pointed.every((one) => obeys(read, one))) continue;
    const verdicts = speaking.map((line) => judge(read, line, pointed, comma));
    const linesRead = verdicts.filter((verdict) => verdict === 'read').length;
    ways.push({ ...way, linesRead, linesWrong: verdicts.filter((verdict) => verdict === 'wrong').length });
    if (linesRead === speaking.length) break; // what follows is no simpler and cannot read more
  }
  return ways.toSorted((a, b) => b.linesRead - b.linesWrong - (a.linesRead - a.linesWrong));
}

/** The number in the line from which the channel is read, or the word that stands for one. Scale 1, offset 0 only. */
export function whereRead(read: Read, line: string, role: Role, unit: Unit, comma: Comma): LinePart | undefined {
  const parts = partsOf(line, comma);
  const isRead = (part: LinePart) => obeys(read, { line, from: part.from, to: part.to, role, unit });
  // A number put in the place of a word before it (P1=) would be read as well.
  return parts.find((part) => part.kind === 'number' && isRead(part)) ?? parts.find(isRead);
}

/** How a line fares: each channel that it speaks of read from where it should be, or not. */
function judge(read: Read, line: string, pointed: readonly Pointed[], comma: Comma): 'read' | 'unread' | 'wrong' {
  const readings = read(line);
  if (readings.some(({ flag }) => flag !== undefined && flag !== 'overload')) return 'unread';
  for (const { role, unit, flag } of readings) {
    if (flag) continue;
    const own = pointed.filter((one) => one.role === role);
    const place = whereRead(read, line, role, unit, comma);
    if (place && !own.some((one) => labelBefore(one.line, one.from) === labelBefore(line, place.from))) return 'wrong';
  }
  return 'read';
}
