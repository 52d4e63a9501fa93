import { exp } from '../../numerics/elementary.ts';
import { type LagLimits, longestLag, usualLagLimits } from '../sweep/series/initial-estimates.ts';
import { addUncertainty, bootstrapInterval, type Estimate } from './estimate.ts';
import type { Layout } from './model/shape.ts';

/*
 * The lag: by how many seconds the flame signal follows the pressure as the manometer shows it. It is the dead time plus the
 * first-order lag of detector, amplifier and signal meter, less what the manometer itself lags. Two parameters of the fit
 * describe it: `lag`, all of it in seconds, and `lagRoot`, from which the first-order part follows.
 */

/**
 * Seconds of first-order lag at parameters `x`: the square of `lagRoot`, so that it cannot be negative, plus a quarter of the
 * grid's step, since no meter averages over less. The rest of `lag` is dead time.
 *
 * @param stepS  step of the pressure grid, seconds
 */
export const firstOrderLag = (x: Float64Array, layout: Layout, stepS: number): number =>
  x[layout.lagRoot]! ** 2 + stepS / 4;

/** Gains of a first-order lag over one step, and their derivatives by the lag (per second). */
export interface LagGains {
  /** Of the output before, of the input before, of the input now; they add up to 1. */
  output: number;
  before: number;
  now: number;
  outputSlope: number;
  beforeSlope: number;
  nowSlope: number;
}

/**
 * Gains by which a first-order lag goes on from one grid point to the next, exact for an input that is linear in between.
 * Source: the step and ramp responses of a first-order system, solved in closed form (first-order hold).
 *
 * @param lag    time constant, seconds, at least 0
 * @param stepS  step of the grid, seconds
 */
export function lagGains(lag: number, stepS: number): LagGains {
  const ratio = lag / stepS;
  const output = ratio > 1e-9 ? exp(-1 / ratio) : 0;
  const now = 1 - ratio * (1 - output);
  const outputSlope = output > 0 ? output / (ratio * ratio * stepS) : 0;
  const nowSlope = ratio * outputSlope - (1 - output) / stepS;
  return { output, now, before: 1 - output - now, outputSlope, nowSlope, beforeSlope: -outputSlope - nowSlope };
}

/**
 * Prior knowledge of the lag: detector, amplifier and meter together lag by 0.3 to 3 s, so 1.2 s give or take 1 s, and about
 * as much of it first-order. The bootstrap draws them twice as wide, since burners differ more than a fit should wander. Beyond what the
 * light-offs of the capture leave room for, which has half a second to spare, it is given a tenth of a second.
 */
export const lagPriors = (layout: Layout, limits: LagLimits) => [
  { at: layout.lag, mean: 1.2, deviation: 1, scale: 2 },
  { at: layout.lagRoot, mean: 1, deviation: 0.7, scale: 2 },
  ...(limits === usualLagLimits
    ? []
    : [{ at: layout.lag, mean: limits.shortestS, upTo: limits.longestS, deviation: 0.1, scale: 5 }]),
];

/**
 * Whether a fitted lag lies within what was searched, half a second beyond included; negative where the manometer is the slower
 * meter.
 */
export const isPlausibleLag = (lagS: number): boolean => lagS > -longestLag && lagS < longestLag + 0.5;

/**
 * The lag in seconds with its interval. A manometer that lags behind the signal makes it negative.
 * A sweep without a shoulder says nothing of the lag, whatever its noise suggests: everything up to `longestLagS` is possible,
 * with the standard uncertainty of a rectangle (JCGM 100:2008, 4.3.7).
 *
 * @param lagS          as fitted, seconds
 * @param replicates    the lag in each bootstrap replicate, seconds
 * @param hasShoulder   whether the fitted curve has a shoulder at all
 * @param degrees       degrees of freedom of the shoulders together
 * @param readingTimeU  standard uncertainty of the time of a reading, seconds
 * @param longestLagS   longest lag that light-offs and shut gas allow, seconds
 */
export function estimateLag(
  lagS: number,
  replicates: Float64Array,
  hasShoulder: boolean,
  degrees: number,
  readingTimeU: number,
  confidence: number,
  longestLagS: number,
): Estimate {
  const lag = bootstrapInterval(lagS, replicates, confidence, degrees);
  if (!hasShoulder)
    return {
      ...lag,
      value: Math.max(0, lag.value),
      standardError: longestLagS / Math.sqrt(12),
      ci: [0, longestLagS],
    };
  return addUncertainty(lag, readingTimeU, confidence);
}
