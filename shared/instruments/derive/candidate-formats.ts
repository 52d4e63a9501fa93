import type { Profile } from '../../model/profile.ts';
import type { Role } from '../../model/reading.ts';
import type { LineConventions } from './derive-pattern.ts';
import { alternativePatterns, orderedPatterns } from './derive-pattern.ts';
import { unitTextAfter } from './line-label.ts';
import type { NumberSelection } from './selection.ts';

/** A line format with its channels that may read the lines. */
export interface CandidateFormat {
  line: Profile['line'];
  channels: Profile['channels'];
}

// What loggers put between fields, the least ambiguous first (common practice).
const delimiters = ['\t', ';', '|', ',', ' ', '/', ':', '='];
// These occur inside fields as well: they separate fields only where nothing but a unit follows the number.
const ambiguousDelimiters = new Set([' ', '/', ':', '=']);

/** One channel for each role, in the order of selection. */
const lineChannels = (
  selections: readonly NumberSelection[],
  fieldOf?: (selection: NumberSelection) => number,
): Profile['channels'] => {
  const byRole = new Map<Role, NumberSelection>();
  for (const selection of selections) if (!byRole.has(selection.role)) byRole.set(selection.role, selection);
  return [...byRole.values()].map((selection) => ({
    role: selection.role,
    unit: selection.unit,
    scale: 1,
    offset: 0,
    ...(fieldOf && { field: fieldOf(selection) }),
  }));
};

/** The number of the field that contains the position `from`, as the decoder counts. */
const fieldAt = (line: string, from: number, delimiter: string): number =>
  delimiter === ' '
    ? line.slice(0, from).trimStart().split(/ +/).length - 1
    : line.slice(0, from).split(delimiter).length - 1;

const canSeparate = ({ line, to }: NumberSelection, delimiter: string): boolean => {
  if (!line.includes(delimiter)) return false;
  const after = line.slice(to).split(delimiter)[0]!;
  return !ambiguousDelimiters.has(delimiter) || after.trim() === '' || after === unitTextAfter(line, to);
};

/** Every format that may read the lines, the simplest first. The caller tries whether it does. */
export function* candidateFormats(
  selections: readonly NumberSelection[],
  conventions: Omit<LineConventions, 'units'>,
): Generator<CandidateFormat> {
  const roles = new Set(selections.map(({ role }) => role));
  if (roles.size === 1) yield { line: { format: 'number' }, channels: lineChannels(selections) };
  for (const delimiter of delimiters) {
    if (!selections.every((selection) => canSeparate(selection, delimiter))) continue;
    const channels = lineChannels(selections, ({ line, from }) => fieldAt(line, from, delimiter));
    const isOneField = new Set(channels.map(({ field }) => field)).size < channels.length;
    if (!isOneField) yield { line: { format: 'delimited', delimiter }, channels };
  }
  for (const units of [true, false])
    for (const pattern of [
      ...orderedPatterns(selections, { ...conventions, units }),
      ...alternativePatterns(selections, { ...conventions, units }),
    ])
      if (pattern.length <= 400) yield { line: { format: 'pattern', pattern }, channels: lineChannels(selections) };
}
