import { normalCdf } from './distributions.ts';

/** A limit and the standard uncertainty of the measured value against it, same unit. */
export interface Limit {
  value: number;
  u: number;
}

/**
 * Probability that the true value lies between two limits, when normal doubt of size `u` stands between the measured
 * value and each limit. An absent limit is never passed. Being below the one and above the other exclude each other, so
 * nothing need be known of how the two doubts belong together.
 *
 * With the same `u` on both sides this is the conformance probability of a measured value with standard uncertainty `u`
 * against fixed limits. Source: JCGM 106:2012, 7.2 to 7.4.
 */
export function conformanceProbability(value: number, low: Limit | undefined, high: Limit | undefined): number {
  const below = low ? beyond(low.value - value, low.u) : 0;
  const above = high ? beyond(value - high.value, high.u) : 0;
  return Math.max(0, 1 - below - above);
}

/** Chance of being beyond a limit that lies `over` inside: one half on the limit itself, certain where nothing is in doubt. */
function beyond(over: number, u: number): number {
  if (u > 0) return normalCdf(over / u);
  return over > 0 ? 1 : over < 0 ? 0 : 0.5;
}
