import type { Flag } from '../model/reading.ts';

/**
 * Reads a line of the practice meters as their built-in profiles do: a number, plain, with V or with an exponent;
 * OL, -OL and ---- are overload. NaN exactly when flagged.
 */
export function readBenchLine(text: string): { value: number; flag?: Flag } {
  if (text === 'OL' || text === '-OL' || text === '----') return { value: Number.NaN, flag: 'overload' };
  const value = Number(text.replace(/ V$/, ''));
  return Number.isFinite(value) ? { value } : { value: Number.NaN, flag: 'unreadable' };
}
