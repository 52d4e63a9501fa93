import { exp } from '../numerics/elementary.ts';
import { transitionsOf } from '../numerics/hidden-markov.ts';
import { stepS } from './states.ts';

/** What the regulator does, as the pressure of flowing gas shows it. */
export const regulatorStates = ['at-rest', 'turning-in', 'turning-out', 'settling', 'unknown'] as const;
export type RegulatorState = (typeof regulatorStates)[number];

/** Seconds after the gas opened in which the regulator finds its pressure by itself. */
export const settlingS = 3;

/** A hand turns for a second or so and rests for a few (common practice in a sweep); readings outweigh these rates soon. */
export const regulatorTransitions = transitionsOf([
  [1 - 2 * 0.15 * stepS, 0.15 * stepS, 0.15 * stepS],
  [0.7 * stepS, 1 - 0.8 * stepS, 0.1 * stepS],
  [0.7 * stepS, 0.1 * stepS, 1 - 0.8 * stepS],
]);

const normal = (x: number, deviation: number): number =>
  (0.3989422804014327 / deviation) * exp(-0.5 * Math.min((x / deviation) ** 2, 1400));

/**
 * Probability density of a change of pressure for a regulator at rest, turned in and turned out, per inH2O.
 *
 * @param change  of the pressure, inH2O, over `sinceS` seconds
 * @param noise   standard deviation of one reading
 */
export function regulatorLikelihood(change: number, sinceS: number, noise: number): Float64Array {
  const still = Math.SQRT2 * noise;
  const rest = normal(change, Math.hypot(still, 0.004 * sinceS));
  let turned = 0;
  let out = 0;
  // From a careful hand to a quick one, inH2O per second.
  for (const speed of [0.03, 0.08, 0.2, 0.6]) {
    const move = speed * sinceS;
    turned += 0.25 * normal(change - move, Math.hypot(still, 0.5 * move));
    out += 0.25 * normal(change + move, Math.hypot(still, 0.5 * move));
  }
  return Float64Array.of(rest + 1e-4, turned + 1e-4, out + 1e-4);
}
