import { chiSquareQuantile, normalQuantile } from '../../numerics/distributions.ts';

/** A standard deviation with the degrees of freedom it was found with, and what else it may be wrong by. */
export interface Scatter {
  sd: number;
  degrees: number;
  /** Standard uncertainty beside that of the readings, in the unit of `sd`. */
  otherU: number;
}

/** Interval of a standard deviation of normal readings at a two-sided confidence: s^2 times degrees over chi-square. */
function intervalOf({ sd, degrees }: Scatter, confidence: number): [number, number] {
  const limit = (p: number) => sd * Math.sqrt(degrees / chiSquareQuantile(p, degrees));
  return [limit((1 + confidence) / 2), limit((1 - confidence) / 2)];
}

/**
 * Interval of the change from one standard deviation to another. Each has a skew interval of its own, so that a scatter that
 * grew is told from few readings where the difference of two standard uncertainties would hide it.
 *
 * @param confidence  two-sided
 * Sources: Zou and Donner 2008, Statistics in Medicine 27, 1693 (interval of a difference from the intervals of both); JCGM
 * 100:2008, 5.1.2 (what is independent of the readings adds in quadrature).
 */
export function scatterChangeInterval(before: Scatter, after: Scatter, confidence: number): [number, number] {
  const [a, b] = [intervalOf(before, confidence), intervalOf(after, confidence)];
  const change = after.sd - before.sd;
  const other = normalQuantile((1 + confidence) / 2) * Math.hypot(before.otherU, after.otherU);
  return [
    change - Math.hypot(after.sd - b[0], a[1] - before.sd, other),
    change + Math.hypot(b[1] - after.sd, before.sd - a[0], other),
  ];
}
