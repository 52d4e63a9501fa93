/** A number or a word of a line: positions in UTF-16 code units, `to` is the first position after it. */
export interface LineToken {
  from: number;
  to: number;
  kind: 'number' | 'word';
}

/** What a comma between two digits is: a decimal comma, or a separator of two numbers. */
export type CommaMeaning = 'decimal' | 'separator';

const dateOrTime = /\d+(?:[:/]\d+)+(?:[.,]\d+)?|\d{2,4}-\d{1,2}-\d{1,2}(?:T[\d:.]+(?:Z|[+-]\d\d:?\d\d)?)?/uy;
const decimalNumber = /(?:[+\-\u2212]\s*)?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE][+-]?\d+)?/uy;
const pointNumber = /(?:[+\-\u2212]\s*)?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?/uy;
// Digits belong to a word (H2O, CH1) unless they begin a decimal fraction (P1.25).
const word = /-{2,}|-?[\p{L}_%\u00b0"\u2033](?:[\p{L}_%\u2082]|\d+(?!\d*\.\d))*/uy;

/** Digits directly after letters belong to a name (CH1, H2O) unless a decimal point makes them a number (P1.25). */
const isName = (line: string, at: number, found: string): boolean =>
  /[\p{L}\p{N}_]/u.test(line[at - 1] ?? '') && !/^\d+[.]\d/.test(found) && !/^[+\-\u2212]/.test(found);

/** The numbers and words of a line, from left to right. A date or a time is one word. */
export function tokenizeLine(line: string, comma: CommaMeaning): LineToken[] {
  const number = comma === 'decimal' ? decimalNumber : pointNumber;
  const tokens: LineToken[] = [];
  const matchAt = (pattern: RegExp, at: number): string => {
    pattern.lastIndex = at;
    return pattern.exec(line)?.[0] ?? '';
  };
  for (let at = 0; at < line.length;) {
    const when = matchAt(dateOrTime, at);
    const digits = when ? '' : matchAt(number, at);
    const isNumber = digits !== '' && !isName(line, at, digits);
    const text = when || (isNumber ? digits : matchAt(word, at));
    if (text !== '') tokens.push({ from: at, to: at + text.length, kind: isNumber ? 'number' : 'word' });
    at += text.length || 1;
  }
  return tokens;
}

/**
 * What the commas of these lines most likely are. They separate numbers when some number has a decimal point, when a
 * blank follows a comma, or when more than one follows another with only digits between.
 */
export function guessComma(lines: readonly string[]): CommaMeaning {
  const separates = lines.some((line) => /\d\.\d/.test(line) || /\d\s*,\s/.test(line) || /\d,\d+,/.test(line));
  return separates ? 'separator' : 'decimal';
}

/** Whether a line has a comma between digits, so that its meaning matters. */
export const hasCommaBetweenDigits = (lines: readonly string[]): boolean =>
  lines.some((line) => /\d,[+-]?\d/.test(line));
