import { normalCdf } from './distributions.ts';

/** A limit and the standard uncertainty of the measured value against it, same unit. */
export interface Limit {
  value: number;
  u: number;
}

/**
 * Conformance probability: that the true value lies between two limits, when the measured value has a normal uncertainty `u`
 * against each limit. An absent limit is never passed. Being below one and above the other exclude each other, so the
 * correlation of the two uncertainties does not matter.
 *
 * @param value      measured value, in the unit of the limits
 * @param low, high  limits; undefined for one-sided conformance
 *
 * With the same `u` on both sides this is the conformance probability of a measured value with standard uncertainty `u`
 * against fixed limits. Source: JCGM 106:2012, 7.2 to 7.4.
 */
export function conformanceProbability(value: number, low: Limit | undefined, high: Limit | undefined): number {
  const below = low ? beyond(low.value - value, low.u) : 0;
  const above = high ? beyond(value - high.value, high.u) : 0;
  return Math.max(0, 1 - below - above);
}

/**
 * Probability of being beyond a limit by `over` or more: one half on the limit itself; 0 or 1 elsewhere without uncertainty.
 */
function beyond(over: number, u: number): number {
  if (u > 0) return normalCdf(over / u);
  return over > 0 ? 1 : over < 0 ? 0 : 0.5;
}
