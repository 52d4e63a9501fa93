import { normalCdf } from '../../numerics/distributions.ts';
import { exp } from '../../numerics/elementary.ts';
import { fitProbit } from './probit.ts';
import type { Response } from './up-and-down.ts';

export interface NeyerGuess {
  /** Where the mean is thought to lie, and the standard deviation. */
  low: number;
  high: number;
  sigma: number;
}

/**
 * The next level of Neyer's test: halving until both results came, then halving between them while they lie farther apart than the guess
 * of sigma, then the level that raises the determinant of the information of mean and deviation most; until the results overlap about
 * their middle with a guess that shrinks by a fifth each time, afterwards about the estimates of maximum likelihood.
 * Source: Neyer 1994, Technometrics 36, 61.
 */
export function nextNeyer(trials: readonly Response[], { low, high, sigma }: NeyerGuess): number {
  const levels = trials.map(({ level }) => level);
  if (trials.length === 0) return (low + high) / 2;
  const [least, most] = [Math.min(...levels), Math.max(...levels)];
  if (trials.every(({ responded }) => responded))
    return Math.min((low + least) / 2, least - 2 * sigma, 2 * least - most);
  if (trials.every(({ responded }) => !responded))
    return Math.max((high + most) / 2, most + 2 * sigma, 2 * most - least);
  const gap = gapOf(trials);
  const middle = gap.failed + (gap.responded - gap.failed) / 2;
  const guess = guessFor(trials, sigma);
  if (gap.responded - gap.failed > guess) return middle;
  const fit = gap.responded < gap.failed ? fitProbit(trials) : undefined;
  return mostInformative(
    levels,
    fit ? Math.min(most, Math.max(least, fit.mu)) : middle,
    fit ? Math.min(fit.sigma, most - least) : guess,
  );
}

/** Lowest level that responded, and highest that did not. */
const gapOf = (trials: readonly Response[]) => ({
  responded: Math.min(...trials.filter(({ responded }) => responded).map(({ level }) => level)),
  failed: Math.max(...trials.filter(({ responded }) => !responded).map(({ level }) => level)),
});

/** The guess of sigma, a fifth less for each level that was chosen by it before the results overlapped. */
function guessFor(trials: readonly Response[], sigma: number): number {
  let guess = sigma;
  for (let n = 1; n < trials.length; n += 1) {
    const before = trials.slice(0, n);
    if (before.every(({ responded }) => responded === before[0]!.responded)) continue;
    const { responded, failed } = gapOf(before);
    if (responded < failed) break;
    if (responded - failed <= guess) guess *= 0.8;
  }
  return guess;
}

/** The level whose trial adds most to the determinant of the Fisher information of mean and deviation. */
function mostInformative(levels: readonly number[], mu: number, sigma: number): number {
  const parts = (level: number): [number, number, number] => {
    const z = (level - mu) / sigma;
    const p = normalCdf(z);
    const q = normalCdf(-z);
    const weight = p > 0 && q > 0 ? exp(-z * z) / (2 * Math.PI * p * q) : 0;
    return [weight, weight * z, weight * z * z];
  };
  const sum = levels.map(parts).reduce((a, b) => [a[0] + b[0], a[1] + b[1], a[2] + b[2]], [0, 0, 0]);
  const determinant = (level: number) => {
    const one = parts(level);
    return (sum[0] + one[0]) * (sum[2] + one[2]) - (sum[1] + one[1]) ** 2;
  };
  // Beyond five deviations a trial tells next to nothing.
  const step = sigma / 20;
  let best = mu;
  for (let k = -100; k <= 100; k += 1) if (determinant(mu + k * step) > determinant(best)) best = mu + k * step;
  let [from, to] = [best - step, best + step];
  for (let i = 0; i < 60; i += 1) {
    const [a, b] = [from + (to - from) / 3, to - (to - from) / 3];
    if (determinant(a) < determinant(b)) from = a;
    else to = b;
  }
  return (from + to) / 2;
}
