/** One thing in a line that can be pointed at: places in UTF-16 units, `to` is the first place after it. */
export interface LinePart {
  from: number;
  to: number;
  kind: 'number' | 'word';
}

/** What a comma between two digits is: part of a number, or what stands between two. */
export type Comma = 'decimal' | 'separator';

const moment = /\d+(?:[:/]\d+)+(?:[.,]\d+)?|\d{2,4}-\d{1,2}-\d{1,2}(?:T[\d:.]+(?:Z|[+-]\d\d:?\d\d)?)?/uy;
const decimalNumber = /(?:[+\-\u2212]\s*)?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE][+-]?\d+)?/uy;
const pointNumber = /(?:[+\-\u2212]\s*)?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?/uy;
// Digits belong to a word (H2O, CH1) unless they begin a decimal fraction (P1.25).
const word = /-{2,}|-?[\p{L}_%\u00b0"\u2033](?:[\p{L}_%\u2082]|\d+(?!\d*\.\d))*/uy;

/** Digits that follow letters directly name something (CH1, H2O) unless a decimal mark says that they are a number (P1.25). */
const isName = (line: string, at: number, found: string): boolean =>
  /[\p{L}\p{N}_]/u.test(line[at - 1] ?? '') && !/^\d+[.]\d/.test(found) && !/^[+\-\u2212]/.test(found);

/** The numbers and words of a line, from left to right. A date or a time is one word. */
export function partsOf(line: string, comma: Comma): LinePart[] {
  const number = comma === 'decimal' ? decimalNumber : pointNumber;
  const parts: LinePart[] = [];
  const taken = (pattern: RegExp, at: number): string => {
    pattern.lastIndex = at;
    return pattern.exec(line)?.[0] ?? '';
  };
  for (let at = 0; at < line.length;) {
    const when = taken(moment, at);
    const digits = when ? '' : taken(number, at);
    const isNumber = digits !== '' && !isName(line, at, digits);
    const text = when || (isNumber ? digits : taken(word, at));
    if (text !== '') parts.push({ from: at, to: at + text.length, kind: isNumber ? 'number' : 'word' });
    at += text.length || 1;
  }
  return parts;
}

/**
 * What the commas of these lines most likely are. They stand between numbers when some number has a decimal point, when a
 * blank follows a comma, or when more than one follows another with nothing but digits between.
 */
export function guessComma(lines: readonly string[]): Comma {
  const separates = lines.some((line) => /\d\.\d/.test(line) || /\d\s*,\s/.test(line) || /\d,\d+,/.test(line));
  return separates ? 'separator' : 'decimal';
}

/** Whether it matters what a comma is. */
export const hasComma = (lines: readonly string[]): boolean => lines.some((line) => /\d,[+-]?\d/.test(line));
