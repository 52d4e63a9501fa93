import { splineCount } from '../../numerics/b-spline.ts';
import { log } from '../../numerics/elementary.ts';
import { topOf } from '../sweep/meter-faults/clipping.ts';
import type { DarkStretch } from '../sweep/flame/flame-loss.ts';
import type { InitialEstimates } from '../sweep/series/initial-estimates.ts';
import { resolutionOf } from '../sweep/series/meter-noise.ts';
import { lastTime } from '../sweep/series/pressure-grid.ts';
import type { FitData } from './fit-data.ts';
import { lagPriors } from './lag.ts';
import type { Layout } from './model/shape.ts';

/** Normal prior knowledge of one parameter, or of the sum of two. It enters the fit as one more residual. */
export interface Prior {
  at: number;
  /** Another parameter, when the sum of the two is known and neither alone. */
  and?: number;
  mean: number;
  /** All between `mean` and this is as likely; beyond them the deviation counts. */
  upTo?: number;
  deviation: number;
  /** How many times `deviation` the bootstrap draws it with; 1 when absent. */
  scale?: number;
}

/** By how many deviations a parameter, or the sum of two, lies off what is known of it, and how that changes with it. */
export function offPrior({ at, and, mean, upTo = mean, deviation }: Prior, x: Float64Array) {
  const value = x[at]! + (and === undefined ? 0 : x[and]!);
  const isWithin = value > mean && value < upTo;
  return {
    residual: isWithin ? 0 : (value - (value >= upTo ? upTo : mean)) / deviation,
    slope: isWithin ? 0 : 1 / deviation,
  };
}

/**
 * Logarithm of the softness that a clip at `level` gets from the flicker of a steady flame, one to three percent of the level.
 */
export const usualSoftness = (level: number): number => log(0.007 * level);

/** Height against which priors are set: that of the plateau, above zero. */
export const swingOf = ({ plateau }: Pick<InitialEstimates, 'plateau'>): number => Math.max(Math.abs(plateau), 1e-9);

/**
 * Weak priors that keep the search in range where the readings do not determine a parameter: wide against anything that a sweep
 * shows. Parameters are in the units of the sweep; widths, skews and softness are logarithms.
 *
 * @param losses           the flame losses of the shape, as many as it has
 * @param discrepancySize  expected size of the coefficients of a discrepancy, as a share of the plateau
 */
export function priorsFor(
  layout: Layout,
  { input, signal, initial }: FitData,
  losses: DarkStretch[],
  discrepancySize = 0,
): Prior[] {
  const { scale } = input;
  const swing = swingOf(initial);
  const priors: Prior[] = lagPriors(layout, initial.lagLimits);
  if (layout.dark >= 0) priors.push({ at: layout.dark, mean: initial.dark, deviation: 0.3 * swing });
  for (const at of [layout.lowWidth, layout.highWidth])
    if (at >= 0) priors.push({ at, mean: log(0.06 * scale.half), deviation: 1.2 });
  if (layout.low >= 0)
    priors.push({ at: layout.low, mean: initial.halfLow ?? scale.middle - scale.half, deviation: scale.half });
  if (layout.high >= 0)
    priors.push({ at: layout.high, mean: initial.halfHigh ?? scale.middle + scale.half, deviation: scale.half });
  if (layout.clip >= 0) {
    priors.push({ at: layout.amplitude, mean: 1.15 * swing, deviation: 0.3 * swing });
    // Tight in the fit, because noise cut off at the top looks like softness, and three times as wide in the bootstrap.
    priors.push({ at: layout.softness, mean: usualSoftness(swing), deviation: 0.1, scale: 3 });
    // Clipped noise lies on one side of the level only, and its mean below it: the level is the top reading itself.
    const { top, share } = topOf(signal);
    const deviation = 1e-6 * Math.abs(top);
    // The level is known to the last digit of the meter: a rectangle (GUM F.2.2.1).
    if (share > 0.2)
      priors.push({
        at: layout.clip,
        mean: top,
        deviation,
        scale: resolutionOf(signal.value) / Math.sqrt(12) / deviation,
      });
  }
  if (layout.flameLoss >= 0) {
    const last = lastTime(input.grid);
    losses.forEach((loss, k) => {
      // The readings show a loss after the lag: the sum of both is known, the lag alone is not.
      const seen = { lost: loss.lostS + loss.delayS, relit: loss.relitS + loss.delayS };
      priors.push({ at: layout.flameLoss + 2 * k, and: layout.lag, mean: seen.lost, deviation: 2 });
      priors.push({
        at: layout.flameLoss + 2 * k + 1,
        and: layout.lag,
        mean: Math.min(seen.relit, last + 10),
        deviation: 2,
      });
    });
  }
  if (layout.tilt >= 0) priors.push({ at: layout.tilt, mean: 0, deviation: 0.5 });
  if (layout.bow >= 0) priors.push({ at: layout.bow, mean: 0, deviation: 0.5 });
  if (layout.sag >= 0) {
    priors.push({ at: layout.sag, mean: 0, deviation: 0.5 });
    priors.push({ at: layout.knee, mean: 0, deviation: 0.4 });
  }
  for (let k = 0; layout.discrepancy >= 0 && k < splineCount(layout.knots); k += 1)
    priors.push({ at: layout.discrepancy + k, mean: 0, deviation: discrepancySize * swing });
  for (const at of [layout.lowSkew, layout.highSkew]) if (at >= 0) priors.push({ at, mean: 0, deviation: 0.7 });
  return priors;
}
