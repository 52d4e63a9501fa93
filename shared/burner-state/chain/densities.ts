import { exp } from '../../numerics/elementary.ts';

/** Density of the normal distribution; 0 beyond nine deviations, where the floor below every density outweighs it. */
export const normal = (x: number, deviation: number): number => {
  const z = x / deviation;
  return z * z > 81 ? 0 : (0.3989422804014327 / deviation) * exp(-0.5 * z * z);
};
/** Density of the two-sided exponential distribution. */
export const laplace = (x: number, scale: number): number => exp(-Math.min(Math.abs(x) / scale, 700)) / (2 * scale);
/** From 0 to 1. */
export const logistic = (x: number): number => 1 / (1 + exp(-Math.max(-30, Math.min(30, x))));
/** Standard deviation of a sum; `Math.hypot` is ten times as slow. */
export const root = (a: number, b: number, c = 0): number => Math.sqrt(a * a + b * b + c * c);
