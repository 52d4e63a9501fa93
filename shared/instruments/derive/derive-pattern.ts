import type { Role } from '../../model/reading.ts';
import { labelBefore, unitTextAfter } from './line-label.ts';
import type { CommaMeaning } from './line-tokens.ts';
import type { NumberSelection } from './selection.ts';

/** How a meter writes all its numbers. */
export interface LineConventions {
  /** Words that mean beyond the meter's range. */
  overload: readonly string[];
  comma: CommaMeaning;
  /** Whether a unit after a number belongs to it. It does not where the word is the name of the next number (V 3.4). */
  units: boolean;
}

const numberPattern = (comma: CommaMeaning): string =>
  `[-+\u2212]?\\s*\\d*${comma === 'decimal' ? '[.,]' : '\\.'}?\\d+(?:[eE][-+]?\\d+)?`;

const escapePattern = (text: string): string => text.replaceAll(/[\\^$.*+?()[\]{}|/]/g, String.raw`\$&`);

/** A pattern for literal text: any run of blanks matches blanks, and any digits match those that are not part of a name. */
const literalPattern = (text: string): string =>
  text
    .split(/(\s+|(?<![\p{L}\p{N}_])[-+\u2212]?\d[\d.,:/-]*(?:[eE][-+]?\d+)?)/u)
    .map((piece, index) =>
      index % 2 === 0 ? escapePattern(piece) : piece.trim() === '' ? '\\s+' : '[-+\u2212\\d.,:/eE]+',
    )
    .join('');

/** The text of the unit after a number as far as it belongs into the group. */
const unitOf = ({ line, to }: NumberSelection, { units }: LineConventions): string =>
  units ? unitTextAfter(line, to) : '';

/** The group that captures the selected number, the unit after it if there is one, or a word for overload. */
function groupPattern(selection: NumberSelection, conventions: LineConventions): string {
  const { overload, comma } = conventions;
  const unit = unitOf(selection, conventions);
  const words = unit.trim() === '' ? 0 : unit.trim().split(/\s+/).length;
  const after = words === 0 ? '' : `(?:\\s*[^\\s,;|=]+${'(?:\\s+[^\\s,;|=]+)?'.repeat(words - 1)})?`;
  const overloadWords = overload.map((word) => `|${escapePattern(word)}`).join('');
  return `(?<${selection.role}>${numberPattern(comma)}${after}${overloadWords})`;
}

/** A pattern for the name before the number, in any of the lines in which it was selected; empty when one has no name. */
function labelPattern(selections: readonly NumberSelection[]): string {
  const labels = [...new Set(selections.map(({ line, from }) => labelBefore(line, from)))];
  if (labels.includes('')) return '';
  const texts = labels.map((text) => escapePattern(text).replace(/([=:])$/, '\\s*$1'));
  const edge = labels.every((text) => /^\w/.test(text)) ? '\\b' : '';
  return `${edge}${texts.length === 1 ? texts[0]! : `(?:${texts.join('|')})`}\\s*`;
}

const byRole = (selections: readonly NumberSelection[]): NumberSelection[][] => {
  const groups = new Map<Role, NumberSelection[]>();
  for (const selection of selections) groups.set(selection.role, [...(groups.get(selection.role) ?? []), selection]);
  return [...groups.values()];
};

/**
 * Patterns for lines that contain all the numbers in one order: by the names before them where all have one, else by
 * everything before and between them from the beginning of the line.
 */
export function orderedPatterns(selections: readonly NumberSelection[], conventions: LineConventions): string[] {
  const roles = byRole(selections).toSorted((a, b) => a[0]!.from - b[0]!.from);
  const named = roles.map((own) => ({ label: labelPattern(own), group: groupPattern(own[0]!, conventions) }));
  const patterns: string[] = [];
  if (named.every((one) => one.label !== '')) patterns.push(named.map((one) => one.label + one.group).join('.*?'));

  // From the beginning of one line that contains them all.
  const whole = selections.find(({ line }) =>
    roles.every((own) => own.some((selection) => selection.line === line)),
  )?.line;
  if (whole !== undefined) {
    let at = 0;
    let pattern = '^\\s*';
    for (const own of roles) {
      const selection = own.find(({ line }) => line === whole)!;
      const before = at === 0 ? whole.slice(0, selection.from).trimStart() : whole.slice(at, selection.from);
      pattern += literalPattern(before) + groupPattern(selection, conventions);
      at = selection.to + unitOf(selection, conventions).length;
    }
    patterns.push(pattern);
  }
  return patterns;
}

/** A pattern for lines that each contain one of the numbers, distinguished by their names; none when one has no name. */
export function alternativePatterns(selections: readonly NumberSelection[], conventions: LineConventions): string[] {
  const roles = byRole(selections);
  const named = roles.map((own) => ({ label: labelPattern(own), group: groupPattern(own[0]!, conventions) }));
  return roles.length > 1 && named.every((one) => one.label !== '')
    ? [named.map((one) => one.label + one.group).join('|')]
    : [];
}
