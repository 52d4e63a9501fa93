import type { Trial } from '../../model/capture.ts';
import { convertPressure, type PressureUnit } from '../../model/units.ts';
import { lowerBound } from '../../numerics/binomial.ts';

/** What the light-off trials say. Pressures in the capture's unit. */
export interface LightOff {
  trials: number;
  lit: number;
  /** Clopper-Pearson one-sided lower bound of the chance to light at `confidence`. */
  lowerBound: number;
  /** An end that failures set: the outermost pressure that lit with no failure at or inside it, and the nearest failure. */
  low?: { value: number; failure: number };
  high?: { value: number; failure: number };
  /** Failures with pressures that lit both below and above: evidence against itself. */
  contradicting: number[];
  /** Trials failed, and none lit on that side of them. */
  neverLit: boolean;
}

/**
 * Reads the trials around `centre`, a pressure in the middle of the good signal.
 * A failure below all that lit bounds the low end, one above all that lit the high end; one in between bounds the side
 * it lies on, and is named as contradicting.
 */
export function judgeTrials(
  trials: Trial[],
  unit: PressureUnit,
  centre: number,
  confidence: number,
): LightOff | undefined {
  if (trials.length === 0) return undefined;
  const at = trials.map((trial) => ({ lit: trial.lit, p: convertPressure(trial.pressure, trial.unit, unit) }));
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
    contradicting: failed.filter((p) => lit.some((l) => l < p) && lit.some((l) => l > p)),
    neverLit: lit.length === 0,
  };
  if (lit.length === 0) return result;
  // Counted from the middle of the good signal; when nothing lit on one side of it, from what lit nearest to it.
  const nearest = lit.reduce((a, b) => (Math.abs(b - centre) < Math.abs(a - centre) ? b : a));
  const middle = lit[0]! <= centre && centre <= lit.at(-1)! ? centre : nearest;
  const above = failed.find((p) => p >= middle);
  const below = failed.findLast((p) => p < middle);
  const highest = above === undefined ? undefined : lit.findLast((p) => p < above);
  const lowest = below === undefined ? undefined : lit.find((p) => p > below);
  if (above !== undefined && highest !== undefined) result.high = { value: highest, failure: above };
  if (below !== undefined && lowest !== undefined) result.low = { value: lowest, failure: below };
  return result;
}
