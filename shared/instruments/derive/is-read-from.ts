import type { Decoded } from '../decode.ts';
import type { Pointed } from './selection.ts';

/**
 * Whether the reading of `role` is taken from just this place of the line: it must follow what is put there.
 *
 * All digits 2 must read twice as much as all digits 1 (units only multiply), another first or last digit must not go by
 * unseen, and a minus must count. For an on-off channel 0 and 1, or off and on, are put there.
 */
export function obeys(read: (line: string) => Decoded[], { line, from, to, role, unit }: Pointed): boolean {
  const text = line.slice(from, to);
  const valueOf = (put: string): number =>
    read(line.slice(0, from) + put + line.slice(to)).find((reading) => reading.role === role)?.value ?? Number.NaN;

  const mantissa = /^([^\d]*)([\d.,]+)(.*)$/u.exec(text);
  if (unit === 'on') {
    const [no, yes] = mantissa ? ['0', '1'] : ['off', 'on'];
    return valueOf(no) === 0 && valueOf(yes) === 1;
  }
  const [before, digits, after] = mantissa ? [mantissa[1]!, mantissa[2]!, mantissa[3]!] : ['', '1', ''];
  const filled = (digit: string) => digits.replaceAll(/\d/g, digit);
  const ones = filled('1');
  const value = valueOf(before + ones + after);
  if (!Number.isFinite(value) || value === 0) return false;
  const twice = valueOf(before + filled('2') + after);
  const first = valueOf(before + ones.replace('1', '3') + after);
  const last = valueOf(before + ones.replace(/1([^1]*)$/, '3$1') + after);
  const isNegative = /[-\u2212]/u.test(before);
  return (
    Math.abs(twice / value - 2) < 1e-9 &&
    Math.abs(first) > Math.abs(value) &&
    Math.abs(last) > Math.abs(value) &&
    value < 0 === isNegative
  );
}
