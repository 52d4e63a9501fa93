import type { Decoded } from '../decode.ts';
import type { NumberSelection } from './selection.ts';

/**
 * Whether the reading of the selected role is read from exactly this place of the line, which is tested with other digits there.
 *
 * All digits 2 must read twice as much as all digits 1 (units only multiply), another first or last digit must change the
 * reading, and so must a minus. For an on-off channel the test uses 0 and 1, or off and on.
 */
export function isReadFrom(
  decode: (line: string) => Decoded[],
  { line, from, to, role, unit }: NumberSelection,
): boolean {
  const text = line.slice(from, to);
  const valueWith = (replacement: string): number =>
    decode(line.slice(0, from) + replacement + line.slice(to)).find((reading) => reading.role === role)?.value ??
    Number.NaN;

  const mantissa = /^([^\d]*)([\d.,]+)(.*)$/u.exec(text);
  if (unit === 'on') {
    const [no, yes] = mantissa ? ['0', '1'] : ['off', 'on'];
    return valueWith(no) === 0 && valueWith(yes) === 1;
  }
  const [before, digits, after] = mantissa ? [mantissa[1]!, mantissa[2]!, mantissa[3]!] : ['', '1', ''];
  const filledWith = (digit: string) => digits.replaceAll(/\d/g, digit);
  const ones = filledWith('1');
  const value = valueWith(before + ones + after);
  if (!Number.isFinite(value) || value === 0) return false;
  const twice = valueWith(before + filledWith('2') + after);
  const otherFirst = valueWith(before + ones.replace('1', '3') + after);
  const otherLast = valueWith(before + ones.replace(/1([^1]*)$/, '3$1') + after);
  const isNegative = /[-\u2212]/u.test(before);
  return (
    Math.abs(twice / value - 2) < 1e-9 &&
    Math.abs(otherFirst) > Math.abs(value) &&
    Math.abs(otherLast) > Math.abs(value) &&
    value < 0 === isNegative
  );
}
