import { varianceInflation } from '../../numerics/autocorrelation.ts';
import { extent, median } from '../../numerics/descriptive.ts';
import type { Fit } from '../../numerics/linear/least-squares.ts';
import type { CurveFit } from './fit-shape.ts';

/**
 * Longest correlation time that is reckoned with, seconds: eight of them, a block of the bootstrap, are a good part of a sweep.
 */
const longestCorrelationS = 4;

/** Between these shares of the curve's height a reading lies on a shoulder: above the dark, below the plateau. */
const shoulderShare = { from: 0.1, to: 0.97 };

/**
 * Seconds over which the whitened residuals stay correlated all the same. Flicker lives on the shoulders, where the ends are
 * decided; the plateau's own noise, mostly the meter's, must not dilute it.
 *
 * @param times  seconds of the readings, rising
 */
export function correlationTime(curve: CurveFit, times: Float64Array): number {
  const n = times.length;
  const step = (times[n - 1]! - times[0]!) / (n - 1);
  const onShoulder = heightOf(curve).map((height) => Number(isOnShoulder(height)));
  const inflation = Math.max(
    varianceInflation(curve.whitenedResidual),
    varianceInflation(curve.whitenedResidual, onShoulder),
  );
  // An exponential correlation of time T inflates the variance 2 T / step times.
  return Math.min(longestCorrelationS, (step * inflation) / 2);
}

/** Height of each predicted signal: 0 for the lowest, 1 for the highest. */
function heightOf(curve: CurveFit): Float64Array {
  const [low, high] = extent(curve.predicted);
  return curve.predicted.map((value) => (value - low) / (high - low || 1));
}

const isOnShoulder = (height: number): boolean => height > shoulderShare.from && height < shoulderShare.to;

/**
 * How many parameters the readings determine: the trace of the hat matrix. Fewer than there are, where priors hold some of them.
 * Source: Hastie, Tibshirani and Friedman 2009, The Elements of Statistical Learning, 7.6.
 */
export function effectiveParameters({ fit, whitenedResidual }: CurveFit): number {
  let trace = 0;
  for (let k = 0; k < whitenedResidual.length; k += 1) trace += leverageOf(fit, k);
  return trace;
}

/** How much reading `k` pulls its own prediction: an element of the hat matrix; 0 where nothing is known of it. */
export function leverageOf({ jacobian, unscaled, parameters }: Fit, k: number): number {
  const n = parameters.length;
  const row = k * n;
  let h = 0;
  for (let i = 0; i < n; i += 1)
    for (let j = 0; j < n; j += 1) h += jacobian[row + i]! * unscaled[i * n + j]! * jacobian[row + j]!;
  return Number.isFinite(h) ? h : 0;
}

/** Degrees of freedom behind the low end, the high end, and the whole curve. */
export interface DegreesOfFreedom {
  low: number;
  high: number;
  both: number;
}

/** Seconds that a sweep spent on a shoulder, and signal readings from there. */
interface Crossing {
  seconds: number;
  readings: number;
}

/**
 * Degrees of freedom of the ends: how many independent blocks of readings lie on a shoulder, less its two parameters; no more
 * than the readings there leave, and at least 1.
 *
 * @param times     seconds of the readings, rising
 * @param pressure  pressure that belongs to each reading, lag removed
 * @param blockS    seconds that one independent block lasts
 */
export function degreesOfFreedom(
  curve: CurveFit,
  times: Float64Array,
  pressure: Float64Array,
  blockS: number,
): DegreesOfFreedom {
  const { low, high } = crossingsOf(curve, times, pressure);
  // At least 4, which makes an interval of 95 % 1.4 times as wide: a shoulder that is crossed within one block is seen all the
  // same.
  const degreesOf = ({ seconds, readings }: Crossing) =>
    Math.max(1, Math.min(Math.max(4, seconds / blockS - 2), readings - 3));
  const both = { seconds: low.seconds + high.seconds, readings: low.readings + high.readings };
  return { low: degreesOf(low), high: degreesOf(high), both: degreesOf(both) };
}

/** What the sweep spent on the low and on the high shoulder, where the ends are decided. */
function crossingsOf(curve: CurveFit, times: Float64Array, pressure: Float64Array): { low: Crossing; high: Crossing } {
  const height = heightOf(curve);
  const onPlateau = median(pressure.filter((_, i) => height[i]! >= shoulderShare.to));
  const found = { low: { seconds: 0, readings: 0 }, high: { seconds: 0, readings: 0 } };
  for (let i = 1; i < times.length; i += 1)
    if (isOnShoulder(height[i]!)) {
      const side = found[pressure[i]! < onPlateau ? 'low' : 'high'];
      // A gap between two readings was not all spent on the shoulder.
      side.seconds += Math.min(2, times[i]! - times[i - 1]!);
      side.readings += 1;
    }
  return found;
}

/** Readings that share one wave of the flicker, roughly: a meter reads it a few times. */
const readingsOfOneWave = 3;
/** Two readings that differ show that there is a shoulder, whatever else is not known of it. */
const leastDegrees = 2;

/**
 * Degrees of freedom of one end, where they are fewer than those of its shoulder: only readings between the end and the plateau show
 * where the curve begins to fall, and where there are few of them the form of the model stands in for them.
 *
 * @param pressure  pressure that belongs to each reading, lag removed
 * @param inside    lowest and highest pressure of the part of the shoulder that counts
 * @param required  required signal, in the signal's unit
 */
export function degreesAbove(
  curve: CurveFit,
  pressure: Float64Array,
  [from, to]: readonly [number, number],
  required: number,
  degrees: number,
): number {
  const height = heightOf(curve);
  const isAbove = (i: number) =>
    pressure[i]! >= from && pressure[i]! <= to && curve.predicted[i]! > required && isOnShoulder(height[i]!);
  const readings = height.reduce((count, _, i) => count + Number(isAbove(i)), 0);
  return Math.min(degrees, Math.max(leastDegrees, readings / readingsOfOneWave));
}
