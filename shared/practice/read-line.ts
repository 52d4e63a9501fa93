import type { Flag } from '../model/reading.ts';

/**
 * The number in a line of the bench's own meters, as their built-in profiles read it: a plain, a V or an exponent
 * number; OL, -OL and ---- are overload. NaN exactly when flagged.
 */
export function readBenchLine(text: string): { value: number; flag?: Flag } {
  if (text === 'OL' || text === '-OL' || text === '----') return { value: Number.NaN, flag: 'overload' };
  const value = Number(text.replace(/ V$/, ''));
  return Number.isFinite(value) ? { value } : { value: Number.NaN, flag: 'unreadable' };
}
