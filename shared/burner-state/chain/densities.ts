import { exp } from '../../numerics/elementary.ts';

/** Density of the normal distribution; 0 beyond nine deviations, where the floor below every density outweighs it. */
export const normal = (x: number, deviation: number): number => {
  const z = x / deviation;
  return z * z > 81 ? 0 : (0.3989422804014327 / deviation) * exp(-0.5 * z * z);
};
/** Density of the two-sided exponential distribution. */
export const laplace = (x: number, scale: number): number => exp(-Math.min(Math.abs(x) / scale, 700)) / (2 * scale);
const logisticAt = (x: number): number => 1 / (1 + exp(-x));
/** Beyond so far on either side the logistic function stays as it is. */
const farthest = 30;
const [least, most] = [logisticAt(-farthest), logisticAt(farthest)];
/** From 0 to 1. */
export const logistic = (x: number): number => (x >= farthest ? most : x <= -farthest ? least : logisticAt(x));
/**
 * What is left of a difference after some seconds, with each of these time constants in seconds. The answer stands until the next question:
 * most readings come one step after another, so that it mostly is the one before.
 */
export function createDecays(timeConstants: readonly number[]): (seconds: number) => Float64Array {
  const left = new Float64Array(timeConstants.length);
  let known = Number.NaN;
  return (seconds) => {
    if (seconds !== known) for (let k = 0; k < left.length; k += 1) left[k] = exp(-seconds / timeConstants[k]!);
    known = seconds;
    return left;
  };
}
/** Standard deviation of a sum; `Math.hypot` is ten times as slow. */
export const root = (a: number, b: number, c = 0): number => Math.sqrt(a * a + b * b + c * c);
