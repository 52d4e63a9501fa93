import { hasLaterSpark } from '../../light-off/delay-limit.ts';
import type { Trial } from '../../model/capture.ts';
import { convertPressure, type PressureUnit } from '../../model/units.ts';
import { lowerBound } from '../../numerics/binomial.ts';

/** What the light-off trials show. Pressures in the capture's unit. */
export interface LightOff {
  trials: number;
  lit: number;
  /** One-sided Clopper-Pearson lower bound of the probability to light, at the confidence of the setup. */
  lowerBound: number;
  /** An end that failures set: the outermost pressure that lit with no failure at or inside it, and the nearest failure. */
  low?: { value: number; failure: number };
  high?: { value: number; failure: number };
  /** Failures with pressures that lit, with no earlier spark, both clearly below and clearly above: they contradict the other trials. */
  contradicting: number[];
  /** Not one of the trials lit. */
  neverLit: boolean;
}

/**
 * Judges the trials around a pressure in the middle of the good signal.
 * A failure below all that lit bounds the low end, one above all that lit the high end; one in between bounds the side
 * it lies on, and is reported as contradicting. Undefined without trials.
 *
 * @param unit        of the results and of `center`
 * @param center      middle of the signal interval
 * @param confidence  of the lower bound, one-sided
 * @param expandedAt  expanded uncertainty of the manometer at a pressure: what it does not tell apart is one pressure
 */
export function judgeTrials(
  trials: Trial[],
  unit: PressureUnit,
  center: number,
  confidence: number,
  expandedAt: (pressure: number) => number,
): LightOff | undefined {
  if (trials.length === 0) return undefined;
  const at = trials.map(({ lit: didLight, pressure, unit: own, sparkDelayS }) => ({
    lit: didLight,
    p: convertPressure(pressure, own, unit),
    ...(sparkDelayS !== undefined && { sparkDelayS }),
  }));
  const lit = at
    .filter((trial) => trial.lit)
    .map((trial) => trial.p)
    .sort((a, b) => a - b);
  const failed = at
    .filter((trial) => !trial.lit)
    .map((trial) => trial.p)
    .sort((a, b) => a - b);
  const result: LightOff = {
    trials: at.length,
    lit: lit.length,
    lowerBound: lowerBound(lit.length, at.length, confidence),
    contradicting: at
      .filter((trial) => !trial.lit)
      .filter((trial) => {
        const expanded = expandedAt(trial.p);
        const speaking = at.filter((other) => other.lit && !hasLaterSpark(trial, other));
        return (
          speaking.some((other) => other.p < trial.p - expanded) &&
          speaking.some((other) => other.p > trial.p + expanded)
        );
      })
      .map(({ p }) => p)
      .sort((a, b) => a - b),
    neverLit: lit.length === 0,
  };
  if (lit.length === 0) return result;
  // Counted from the middle of the good signal; when nothing lit on one side of it, from what lit nearest to it.
  const nearest = lit.reduce((a, b) => (Math.abs(b - center) < Math.abs(a - center) ? b : a));
  const middle = lit[0]! <= center && center <= lit.at(-1)! ? center : nearest;
  const above = failed.find((p) => p >= middle);
  const below = failed.findLast((p) => p < middle);
  const highest = above === undefined ? undefined : lit.findLast((p) => p < above);
  const lowest = below === undefined ? undefined : lit.find((p) => p > below);
  if (above !== undefined && highest !== undefined) result.high = { value: highest, failure: above };
  if (below !== undefined && lowest !== undefined) result.low = { value: lowest, failure: below };
  return result;
}
