import type { Response } from './up-and-down.ts';

/**
 * The next level of Langlie's one-shot test: the mean of the last level and of the latest earlier one since which as many responded as did
 * not; where there is none, the mean of the last level and the limit on the other side of its result.
 * Source: Langlie 1962, A reliability test method for "one-shot" items, Aeronutronic U-1792.
 */
export function nextLanglie(trials: readonly Response[], lower: number, upper: number): number {
  const last = trials.at(-1);
  if (!last) return (lower + upper) / 2;
  let balance = 0;
  for (let p = trials.length - 1; p >= 0; p -= 1) {
    balance += trials[p]!.responded ? 1 : -1;
    if (balance === 0) return (last.level + trials[p]!.level) / 2;
  }
  return (last.level + (last.responded ? lower : upper)) / 2;
}
