import type { Role } from '../../model/reading.ts';
import { labelBefore, unitTextAfter } from './line-label.ts';
import type { Comma } from './line-tokens.ts';
import type { Pointed } from './selection.ts';

/** What holds for all numbers of a meter. */
export interface Habits {
  overload: readonly string[];
  comma: Comma;
  /** Whether a unit after a number is read with it. Not to be, where the word is the name of the next number (V 3.4). */
  units: boolean;
}

const number = (comma: Comma): string =>
  `[-+\u2212]?\\s*\\d*${comma === 'decimal' ? '[.,]' : '\\.'}?\\d+(?:[eE][-+]?\\d+)?`;

const escaped = (text: string): string => text.replaceAll(/[\\^$.*+?()[\]{}|/]/g, String.raw`\$&`);

/** Literal text in which any run of blanks will do, and any digits for those that are no part of a name. */
const literal = (text: string): string =>
  text
    .split(/(\s+|(?<![\p{L}\p{N}_])[-+\u2212]?\d[\d.,:/-]*(?:[eE][-+]?\d+)?)/u)
    .map((piece, index) => (index % 2 === 0 ? escaped(piece) : piece.trim() === '' ? '\\s+' : '[-+\u2212\\d.,:/eE]+'))
    .join('');

/** The text of the unit of a place as far as it goes into the group. */
const unitOf = ({ line, to }: Pointed, { units }: Habits): string => (units ? unitTextAfter(line, to) : '');

/** The group that takes the number of a place, the unit after it where there is one, or a word for overload. */
function group(place: Pointed, habits: Habits): string {
  const { overload, comma } = habits;
  const unit = unitOf(place, habits);
  const words = unit.trim() === '' ? 0 : unit.trim().split(/\s+/).length;
  const after = words === 0 ? '' : `(?:\\s*[^\\s,;|=]+${'(?:\\s+[^\\s,;|=]+)?'.repeat(words - 1)})?`;
  const beyond = overload.map((word) => `|${escaped(word)}`).join('');
  return `(?<${place.role}>${number(comma)}${after}${beyond})`;
}

/** What names the number: the name before it, in any of the lines in which it was pointed at. */
function label(places: readonly Pointed[]): string {
  const labels = [...new Set(places.map(({ line, from }) => labelBefore(line, from)))];
  if (labels.includes('')) return '';
  const texts = labels.map((text) => escaped(text).replace(/([=:])$/, '\\s*$1'));
  const edge = labels.every((text) => /^\w/.test(text)) ? '\\b' : '';
  return `${edge}${texts.length === 1 ? texts[0]! : `(?:${texts.join('|')})`}\\s*`;
}

const byRole = (places: readonly Pointed[]): Pointed[][] => {
  const groups = new Map<Role, Pointed[]>();
  for (const place of places) groups.set(place.role, [...(groups.get(place.role) ?? []), place]);
  return [...groups.values()];
};

/**
 * Patterns for lines that hold all the numbers in one order: by the names before them where all have one, else by
 * everything that stands before and between them from the beginning of the line.
 */
export function inOrder(places: readonly Pointed[], habits: Habits): string[] {
  const roles = byRole(places).toSorted((a, b) => a[0]!.from - b[0]!.from);
  const named = roles.map((own) => ({ label: label(own), group: group(own[0]!, habits) }));
  const patterns: string[] = [];
  if (named.every((one) => one.label !== '')) patterns.push(named.map((one) => one.label + one.group).join('.*?'));

  // From the beginning of one line that holds them all.
  const whole = places.find(({ line }) => roles.every((own) => own.some((place) => place.line === line)))?.line;
  if (whole !== undefined) {
    let at = 0;
    let pattern = '^\\s*';
    for (const own of roles) {
      const place = own.find(({ line }) => line === whole)!;
      const before = at === 0 ? whole.slice(0, place.from).trimStart() : whole.slice(at, place.from);
      pattern += literal(before) + group(place, habits);
      at = place.to + unitOf(place, habits).length;
    }
    patterns.push(pattern);
  }
  return patterns;
}

/** A pattern for lines that each hold one of the numbers, told apart by their names; none when one has no name. */
export function oneOrOther(places: readonly Pointed[], habits: Habits): string[] {
  const roles = byRole(places);
  const named = roles.map((own) => ({ label: label(own), group: group(own[0]!, habits) }));
  return roles.length > 1 && named.every((one) => one.label !== '')
    ? [named.map((one) => one.label + one.group).join('|')]
    : [];
}
