import type { Profile } from '../../model/profile.ts';
import type { Role, Unit } from '../../model/reading.ts';
import { checkProfile } from '../check-profile.ts';
import { createLineDecoder } from '../decode.ts';
import { candidateFormats } from './candidate-formats.ts';
import { isReadFrom } from './is-read-from.ts';
import { labelBefore } from './line-label.ts';
import type { CommaMeaning, LineToken } from './line-tokens.ts';
import { tokenizeLine } from './line-tokens.ts';
import type { NumberSelection } from './selection.ts';

/** A format that reads the lines and agrees with every selection. */
export interface DerivedFormat {
  line: Profile['line'];
  /** One for each selected role, `field` set where the format needs it; scale 1, offset 0. */
  channels: Profile['channels'];
  /** Of the lines that are not empty: those of which each channel is read, or is an overload. */
  linesRead: number;
  /** Those of which another number than the selected one would be read: one with another name before it. */
  linesWrong: number;
}

type LineDecoder = ReturnType<typeof createLineDecoder>;

/**
 * The formats that read every selected number of `lines` from its place, best first: the one that reads the most lines and the
 * fewest wrong numbers, and of equals the simplest (one number a line; fields between separators; a pattern of what is around the
 * numbers). Empty when no format agrees with the selections.
 *
 * Each format is tested: other digits in the selected place must change the reading, and accordingly.
 *
 * @param lines       sample lines of the meter, without line endings
 * @param selections  at least one; a role may be selected in several lines when these differ
 * @param overload    words that mean beyond the meter's range, as in the profile
 */
export function deriveProfile(
  lines: readonly string[],
  selections: readonly NumberSelection[],
  overload: readonly string[],
  comma: CommaMeaning,
): DerivedFormat[] {
  if (selections.length === 0) return [];
  const samples = lines.filter((line) => line.trim() !== '');
  const formats: DerivedFormat[] = [];
  for (const candidate of candidateFormats(selections, { overload, comma })) {
    const checked = checkProfile({ name: 'derived', ...candidate, overload: [...overload] }, 'derived');
    if (!checked.ok) continue;
    const decode = createLineDecoder(checked.value);
    if (!selections.every((selection) => isReadFrom(decode, selection))) continue;
    const results = samples.map((line) => classifyLine(decode, line, selections, comma));
    const linesRead = results.filter((result) => result === 'read').length;
    formats.push({ ...candidate, linesRead, linesWrong: results.filter((result) => result === 'wrong').length });
    if (linesRead === samples.length) break; // the remaining ones are not simpler and cannot read more
  }
  return formats.toSorted((a, b) => b.linesRead - b.linesWrong - (a.linesRead - a.linesWrong));
}

/** The number in the line from which the channel is read, or the word in its place. For scale 1 and offset 0 only. */
export function findReadNumber(
  decode: LineDecoder,
  line: string,
  role: Role,
  unit: Unit,
  comma: CommaMeaning,
): LineToken | undefined {
  const tokens = tokenizeLine(line, comma);
  const isRead = (token: LineToken) => isReadFrom(decode, { line, from: token.from, to: token.to, role, unit });
  // A number put in the place of a word before it (P1=) would be read as well.
  return tokens.find((token) => token.kind === 'number' && isRead(token)) ?? tokens.find(isRead);
}

/** Whether each channel in the line is read, and from a number with the same name before it as in the selections. */
function classifyLine(
  decode: LineDecoder,
  line: string,
  selections: readonly NumberSelection[],
  comma: CommaMeaning,
): 'read' | 'unread' | 'wrong' {
  const readings = decode(line);
  if (readings.some(({ flag }) => flag !== undefined && flag !== 'overload')) return 'unread';
  for (const { role, unit, flag } of readings) {
    if (flag) continue;
    const ofRole = selections.filter((selection) => selection.role === role);
    const token = findReadNumber(decode, line, role, unit, comma);
    if (token && !ofRole.some((one) => labelBefore(one.line, one.from) === labelBefore(line, token.from)))
      return 'wrong';
  }
  return 'read';
}
