import erfc from '@stdlib/math-base-special-erfc';
import erfcInverse from '@stdlib/math-base-special-erfcinv';
import gammaIncompleteInverse from '@stdlib/math-base-special-gammaincinv';
import betaIncompleteInverse from '@stdlib/math-base-special-kernel-betaincinv';

// The library writes its own exp, log and powers, from operations that IEEE 754 rounds alike everywhere (see elementary.ts): a quantile has
// the same digits in every engine.

/** `p` as a probability: what rounding has put beside [0, 1] is put back. */
const probability = (p: number): number => Math.min(1, Math.max(0, p));

/** Quantile of the beta distribution for p in [0, 1], with a and b > 0. */
export function betaQuantile(p: number, a: number, b: number): number {
  const lower = probability(p);
  return betaIncompleteInverse(a, b, lower, 1 - lower)[0]!;
}

/** Quantile of the chi-square distribution with `degrees` of freedom (> 0). */
export const chiSquareQuantile = (p: number, degrees: number): number =>
  2 * gammaIncompleteInverse(probability(p), degrees / 2);

/** Distribution function of the standard normal; the lower tail has all its digits. */
export const normalCdf = (z: number): number => erfc(-z * Math.SQRT1_2) / 2;

/** Quantile of the standard normal, from its nearer tail. */
export function normalQuantile(p: number): number {
  const lower = probability(p);
  return lower < 0.5 ? -Math.SQRT2 * erfcInverse(2 * lower) : Math.SQRT2 * erfcInverse(2 * (1 - lower));
}

/** From here on Student's t and the normal distribution have the same digits; far beyond, the share of t would underflow. */
const manyDegrees = 1e20;

/**
 * Quantile of Student's t with `degrees` of freedom (> 0, may be fractional or infinite).
 *
 * t^2 / (degrees + t^2) follows the beta distribution with 1/2 and degrees/2; its lower end is the median of t and the normal limit, so
 * that both keep their digits.
 */
export function studentQuantile(p: number, degrees: number): number {
  if (degrees > manyDegrees) return normalQuantile(p);
  const lower = probability(p);
  const tails = 2 * Math.min(lower, 1 - lower);
  const [share, rest] = betaIncompleteInverse(0.5, degrees / 2, 1 - tails, tails);
  return Math.sign(lower - 0.5) * Math.sqrt((degrees * share!) / rest!);
}
