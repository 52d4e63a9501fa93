import { log } from './elementary.ts';
import { betaQuantile } from './distributions.ts';

/**
 * Clopper-Pearson lower bound, one-sided and exact: `successes` out of `trials` prove at least this probability at
 * `confidence`.
 * Source: Clopper and Pearson 1934, Biometrika 26, 404: the beta quantile B(1 - confidence; x, n - x + 1).
 *
 * @param confidence  one-sided, 0 to 1; half of the rest on each side for a two-sided interval
 */
export const lowerBound = (successes: number, trials: number, confidence: number): number =>
  successes <= 0 ? 0 : betaQuantile(1 - confidence, successes, trials - successes + 1);

/** Clopper-Pearson upper bound, one-sided and exact; see {@link lowerBound}. */
export const upperBound = (successes: number, trials: number, confidence: number): number =>
  successes >= trials ? 1 : betaQuantile(confidence, successes + 1, trials - successes);

/**
 * How many trials without a failure demonstrate `reliability` at `confidence` (success-run theorem): the smallest n with
 * reliability^n <= 1 - confidence, checked as such because ceil(ln / ln) errs at exact ties.
 *
 * @param reliability, confidence  above 0 and below 1
 */
export function successRun(reliability: number, confidence: number): number {
  const target = 1 - confidence;
  const guess = Math.max(1, Math.floor(log(target) / log(reliability)) - 1);
  let n = guess;
  while (reliability ** n > target * (1 + 1e-12)) n += 1;
  return n;
}
