import { median } from '../../../numerics/descriptive.ts';
import { unimodal } from '../../../numerics/isotonic.ts';
import { createRandom } from '../../../numerics/random.ts';
import { robustDeviation } from '../../../numerics/robust.ts';
import { correlatedMultipliers, replicateCount } from '../../curve/bootstrap.ts';
import { addUncertainty, bootstrapInterval, exactEstimate } from '../../curve/estimate.ts';
import { requiredShift, requiredSignal } from '../../sweep/required-signal.ts';
import { slicesOf } from '../../sweep/series/slices.ts';
import { findCurveEnds } from './curve-ends.ts';
import { withPlateauBias, withRequiredBias } from './highest-level.ts';
import {
  intervalStatus,
  lossLimits,
  plotPressures,
  type SignalEnd,
  type SignalInterval,
  type SteadyCurve,
} from './signal-interval.ts';

/** Slices of pressure: on each side of the plateau several of them lie on a shoulder of usual width. */
const slices = 40;

/** Indices of the readings in each slice; slices without readings are left out. */
const sliced = (pressure: Float64Array, tested: readonly [number, number]): number[][] =>
  slicesOf(pressure, Float64Array.from(pressure.keys()), tested, slices).filter((indices) => indices.length > 0);

/** Mean pressure of each slice. */
const centersOf = (members: number[][], pressure: Float64Array): Float64Array =>
  Float64Array.from(members, (indices) => indices.reduce((sum, i) => sum + pressure[i]!, 0) / indices.length);

/**
 * The free curve: the median signal of each slice, made to rise and then fall and nothing else.
 * Source of the fit: Frisen 1986, The Statistician 35, 479 (unimodal regression).
 */
function freeLevels(members: number[][], signal: Float64Array): Float64Array {
  const medians = Float64Array.from(members, (indices) => median(Float64Array.from(indices, (i) => signal[i]!)));
  return unimodal(
    medians,
    Float64Array.from(members, (indices) => indices.length),
  );
}

/** Level at a pressure by interpolation between centers, rising; beyond the outermost their level. */
function levelBetween(centers: Float64Array, level: Float64Array, p: number): number {
  const last = centers.length - 1;
  if (p <= centers[0]!) return level[0]!;
  if (p >= centers[last]!) return level[last]!;
  let next = 1;
  while (centers[next]! < p) next += 1;
  const part = (p - centers[next - 1]!) / (centers[next]! - centers[next - 1]!);
  return level[next - 1]! + part * (level[next]! - level[next - 1]!);
}

/** Residuals of the signal about a steady curve, one for each pressure, in the signal's unit. */
export const residualsOfCurve = (curve: SteadyCurve, pressure: Float64Array, signal: Float64Array): Float64Array =>
  signal.map((value, i) => value - levelBetween(curve.pressure, curve.signal, pressure[i]!));

/**
 * How far a fitted curve lies from the free one beyond what the noise of the slices' medians explains: root mean square over
 * the slices, as a share of the plateau.
 *
 * @param fitted     the fitted signal at each reading
 * @param plateau    of the fitted curve, in the signal's unit
 * @param inflation  variance inflation: how many readings amount to one independent reading
 * @param digit      step of the signal meter's last digit
 */
export function distanceFromFreeCurve(
  pressure: Float64Array,
  signal: Float64Array,
  fitted: Float64Array,
  tested: readonly [number, number],
  plateau: number,
  inflation: number,
  digit: number,
): number {
  const members = sliced(pressure, tested);
  const free = freeLevels(members, signal);
  let squares = 0;
  members.forEach((indices, k) => {
    const off = free[k]! - median(Float64Array.from(indices, (i) => fitted[i]!));
    const noise = Math.max(digit / 2, robustDeviation(Float64Array.from(indices, (i) => signal[i]! - fitted[i]!)));
    // Variance of a median of n normal readings: pi s^2 / (2 n).
    squares += off ** 2 - (Math.PI / 2) * noise ** 2 * Math.min(1, inflation / indices.length);
  });
  return Math.sqrt(Math.max(0, squares) / members.length) / Math.abs(plateau);
}

/** What `freeSignalInterval` works on; one entry for each reading, lag removed, in the sweep's units. */
export interface FreeCurveInput {
  elapsedS: Float64Array;
  pressure: Float64Array;
  signal: Float64Array;
  tested: readonly [number, number];
  /** Pressures at which the flame was lost at an end of the tested ones. */
  lossesAt: readonly number[];
  dropFraction: number;
  /** Minimum signal, undefined where none is asked for. */
  minimum: number | undefined;
  confidence: number;
  /** Block length of the bootstrap, seconds, and degrees of freedom behind an end. */
  blockS: number;
  degrees: number;
  seed: number;
}

/**
 * The signal interval where no model follows the readings: of the free curve, with intervals from a dependent wild bootstrap
 * of the readings around it (Shao 2010, JASA 105, 218). The distance of the slices adds an uncertainty of its own: where
 * between them a level is passed is unknown (rectangle, JCGM 100:2008 4.3.7).
 */
export function freeSignalInterval(input: FreeCurveInput): SignalInterval {
  const { elapsedS, pressure, signal, tested, dropFraction, minimum, confidence, degrees } = input;
  const members = sliced(pressure, tested);
  const centers = centersOf(members, pressure);
  const plotted = plotPressures(tested);
  const limits = lossLimits(input.lossesAt, tested);
  const endsOf = (free: Float64Array) => {
    const levelAt = (p: number) => levelBetween(centers, free, p);
    const levels = plotted.map(levelAt);
    return {
      levels,
      ...findCurveEnds({ pressure: plotted, signal: levels, levelAt }, limits, dropFraction, minimum),
    };
  };
  const free = freeLevels(members, signal);
  const ends = endsOf(free);
  const fitted = pressure.map((p) => levelBetween(centers, free, p));

  const draw = correlatedMultipliers(elapsedS, input.blockS, createRandom(input.seed));
  const multipliers = new Float64Array(signal.length);
  const replicates = { low: new Float64Array(replicateCount), high: new Float64Array(replicateCount) };
  const plateaus = new Float64Array(replicateCount);
  const levels = Array.from(plotted, () => new Float64Array(replicateCount));
  const resampled = new Float64Array(signal.length);
  for (let b = 0; b < replicateCount; b += 1) {
    draw(multipliers);
    for (let k = 0; k < signal.length; k += 1) resampled[k] = fitted[k]! + multipliers[k]! * (signal[k]! - fitted[k]!);
    const replicate = endsOf(freeLevels(members, resampled));
    plateaus[b] = replicate.plateau;
    replicates.low[b] = replicate.low?.value ?? Number.NaN;
    replicates.high[b] = replicate.high?.value ?? Number.NaN;
    for (let i = 0; i < plotted.length; i += 1) levels[i]![b] = replicate.levels[i]!;
  }

  // The highest of many levels may be the true plateau or chance: how far it stands above the median of the good ones is an
  // uncertainty of its own.
  const { low: from, high: to } = ends;
  const good = free.filter((_, k) => from && to && centers[k]! >= from.value && centers[k]! <= to.value);
  const aboveMedian = good.length > 0 ? ends.plateau - median(good) : 0;
  // Between two slices the level may fall anywhere (rectangle), and inside a slice as well.
  const sliceUncertainty = (p: number) => {
    const next = centers.findIndex((center) => center >= p);
    const gap = next > 0 ? centers[next]! - centers[next - 1]! : 0;
    return Math.max(gap, (tested[1] - tested[0]) / slices) / Math.sqrt(12);
  };
  const bias = Math.max(0, median(plateaus) - ends.plateau);
  const required = requiredSignal(ends.plateau, dropFraction, minimum);
  const requiredBias = requiredShift(required, ends.plateau, bias);
  const end = (side: 'low' | 'high'): SignalEnd | undefined => {
    const found = ends[side];
    if (!found?.bounded) return found && { ...found, ...exactEstimate(found.value) };
    const estimate = withRequiredBias(
      bootstrapInterval(found.value, replicates[side], confidence, degrees),
      side,
      { pressure: plotted, signal: ends.levels },
      ends.required,
      found.flameLost ? 0 : requiredBias,
    );
    return { ...found, ...addUncertainty(estimate, sliceUncertainty(found.value), confidence) };
  };
  const [low, high] = [end('low'), end('high')];
  const band = levels.map((values, i) => bootstrapInterval(ends.levels[i]!, values, confidence, degrees).ci);
  return {
    status: intervalStatus(low, high),
    plateau: addUncertainty(
      withPlateauBias(bootstrapInterval(ends.plateau, plateaus, confidence, degrees), bias),
      aboveMedian,
      confidence,
    ),
    required,
    ...(low && high && { low, high }),
    curve: { pressure: plotted, signal: ends.levels },
    band: { low: Float64Array.from(band, (ci) => ci[0]), high: Float64Array.from(band, (ci) => ci[1]) },
    replicates,
  };
}
