import { findUnit } from '../unit-token.ts';

const nameBefore = /(?:^|[^\p{L}\p{N}_])([\p{L}_][\p{L}\p{N}_]*)(\s*[=:]?\s*)$/u;

/**
 * The name before a number, with the sign between: "P1=" of "P1=1.234". Empty when there is none; a unit there
 * belongs to the number before and is not a name.
 */
export function labelBefore(line: string, from: number): string {
  const found = nameBefore.exec(line.slice(0, from));
  const [, name = '', between = ''] = found ?? [];
  if (name === '') return '';
  // "1.2 Pa 3.4": Pa is a unit; "Pa=3.4", "V: 3.4": it is a name.
  if (between.trim() === '' && findUnit(name) && /\d/.test(line.slice(0, from - name.length - between.length)))
    return '';
  return name + between.trim();
}

/** The text of the unit right after a number: " in H2O", "mV"; empty when there is no known unit. */
export function unitTextAfter(line: string, to: number): string {
  const rest = /^\s*[^\s,;|=]+(?:\s+[^\s,;|=]+){0,2}/u.exec(line.slice(to))?.[0] ?? '';
  for (let text = rest; text.trim() !== ''; text = text.replace(/\s*\S+$/u, '')) {
    if (/^\s*\d/.test(text)) return '';
    // The shortest run of words that is this unit: without its last word it must not be the same unit.
    if (findUnit(text) && !hasExtraWord(text)) return text;
  }
  return '';
}

const hasExtraWord = (text: string): boolean => {
  const shorter = text.replace(/\s*\S+$/u, '');
  return shorter.trim() !== '' && findUnit(shorter)?.unit === findUnit(text)?.unit;
};
