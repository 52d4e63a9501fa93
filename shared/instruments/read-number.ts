import type { Flag, Role, Unit } from '../model/reading.ts';
import { agrees, findUnit, toChannelUnit } from './unit-token.ts';

/** The number for one channel before scale and offset, in the channel's unit; `convertedFrom` when another unit was printed. */
export type NumberRead = { value: number; convertedFrom?: string } | { flag: Flag };

const flagged = (flag: Flag): NumberRead => ({ flag });

// A sign may be separated ("- 0.12"), a decimal comma is accepted, and a number inside a word ("CH1", "H2O") is not.
const number = /(?<![\p{L}\p{N}_.,])([+\-\u2212]\s*)?(\d+(?:[.,]\d*)?|[.,]\d+)(e[+-]?\d+)?/iu;
const signedAfterWord = /(?<=\p{L})([+\-\u2212])(\d+(?:[.,]\d*)?|[.,]\d+)(e[+-]?\d+)?/iu;

/**
 * Text after digits that makes them part of a date, a time, a fraction or a list of digits, or replaces lost characters: then the number
 * is not guessed. A minus behind the digits may be their sign.
 */
const continuation = /^(?:[:/.'_-]\d|[.,]\.|\p{N}|\ufffd|[-\u2212](?:\s|$))/u;
/** A group of three digits after a blank, which may be thousands of the same number or a number of its own. */
const groupOfThree = /^[ \u00a0\u202f]\d{3}(?!\d)/u;
const signBefore = /[+\-\u2212]$/u;

/** Whether a comma or a blank in or after the number may be a thousands mark as well as a decimal comma or a list: `1,234.5`, `1 234`. */
const isAmbiguous = (digits: string, rest: string): boolean =>
  (/^\d{1,3}$/.test(digits) && groupOfThree.test(rest)) ||
  (/^,\d/.test(rest) && (digits.includes(',') || (/\.\d{3}$/.test(digits) && !/^,\d+\./.test(rest))));

const unitAfter = /^\s*(["'\u2033\u201d\u00b0%]|\p{L}|[\u00b5\u03bc])/u;
const unitAfterSeparator = /^\s*[,;]\s*(?=["%]|\p{L})/u;

const switchWords = new Map([
  ['on', 1],
  ['yes', 1],
  ['true', 1],
  ['off', 0],
  ['no', 0],
  ['false', 0],
]);

/** Whether one of the words in `text` is an overload token. */
export const isOverload = (text: string, overload: readonly string[]): boolean => {
  const words = text.toLowerCase().split(/[\s,;:=]+/);
  return overload.some((token) => {
    const wanted = token.toLowerCase();
    return words.includes(wanted) || words.includes(`+${wanted}`) || text.trim().toLowerCase() === wanted;
  });
};

/**
 * The first number of `text` in the channel's unit.
 *
 * - A unit token right after the number must be one that converts to `unit`; any other word there gives
 *   `unit-unknown`, because a pressure in an unknown unit is no pressure.
 * - `2,31` is two and 31 hundredths. What may be a list, a date, a time or a number with thousands marks
 *   (`1,234.5`, `1,2,3`, `12:30`) is `unreadable` rather than guessed.
 * - An overload token anywhere in the text wins over a number.
 */
export function readNumber(text: string, role: Role, unit: Unit, overload: readonly string[]): NumberRead {
  if (isOverload(text, overload)) return flagged('overload');
  if (unit === 'on') {
    const state = switchWords.get(text.trim().toLowerCase());
    if (state !== undefined) return { value: state };
  }

  const plain = number.exec(text);
  const signed = signedAfterWord.exec(text);
  const found = plain && (!signed || plain.index <= signed.index) ? plain : signed;
  if (!found) return flagged('unreadable');
  const rest = text.slice(found.index + found[0].length);
  if (continuation.test(rest) || isAmbiguous(found[2] ?? '', rest)) return flagged('unreadable');
  if (found[1] && signBefore.test(text.slice(0, found.index))) return flagged('unreadable');

  const [, sign = '', digits = '', exponent = ''] = found;
  const size = Number(digits.replace(',', '.') + exponent);
  const value = /[-\u2212]/.test(sign) ? -size : size;
  if (!Number.isFinite(value)) return flagged('unreadable');
  if (unit === 'on') return { value };

  const separator = unitAfterSeparator.exec(rest);
  const words = separator ? rest.slice(separator[0].length) : rest;
  if (!separator && !unitAfter.test(rest)) return { value };
  const spelling = findUnit(words.split(/[,;]/)[0] ?? '');
  if (!spelling) return separator ? { value } : flagged('unit-unknown');
  const converted = toChannelUnit(value, spelling, role, unit);
  if (converted === undefined) return flagged('unit-unknown');
  return agrees(spelling, unit) ? { value: converted } : { value: converted, convertedFrom: spelling.name };
}
