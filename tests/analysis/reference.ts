import { readFileSync } from 'node:fs';

/** One file of values from outside. Each names its published source and its tolerance. */
export interface Reference<I, E> {
  source: string;
  inputs: I;
  expected: E;
  tolerance: Record<string, number>;
}

export const reference = <I, E>(name: string): Reference<I, E> =>
  JSON.parse(readFileSync(new URL(`../reference/${name}.json`, import.meta.url), 'utf8')) as Reference<I, E>;

/** Largest relative difference of two rows of numbers; absolute where the expected value is zero; infinite for NaN. */
export function apart(found: ArrayLike<number>, expected: ArrayLike<number>): number {
  if (found.length !== expected.length) return Infinity;
  let largest = 0;
  for (let i = 0; i < expected.length; i += 1) {
    const off = Math.abs(found[i]! - expected[i]!) / (Math.abs(expected[i]!) || 1);
    if (!(off <= largest)) largest = Number.isNaN(off) ? Infinity : off;
  }
  return largest;
}
