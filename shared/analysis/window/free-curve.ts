import { createRandom } from '../../numerics/random.ts';
import { type Estimate, bootstrapInterval, addUncertainty } from '../curve/estimate.ts';
import { replicateCount, correlatedMultipliers } from '../curve/bootstrap.ts';
import { unimodal } from '../../numerics/isotonic.ts';
import { median } from '../../numerics/descriptive.ts';
import { robustDeviation } from '../../numerics/robust.ts';
import { exactEstimate } from '../curve/estimate.ts';
import {
  plotPressures,
  type SignalEnd,
  type SignalInterval,
  intervalStatus,
  type SteadyCurve,
} from './signal-interval.ts';
import { findCurveEnds, requiredSignal } from './curve-ends.ts';

/** Slices of pressure. */
const slices = 40;

/** Which slice each reading lies in, and how the slices are filled. */
function sliced(pressure: Float64Array, [low, high]: [number, number]) {
  const members: number[][] = Array.from({ length: slices }, () => []);
  pressure.forEach((p, i) => {
    members[Math.min(slices - 1, Math.max(0, Math.floor(((p - low) / (high - low)) * slices)))]!.push(i);
  });
  return members.filter((indices) => indices.length > 0);
}

const centresOf = (members: number[][], pressure: Float64Array) =>
  Float64Array.from(members, (indices) => indices.reduce((sum, i) => sum + pressure[i]!, 0) / indices.length);

/**
 * The free curve: the median signal of each slice, made to rise and then fall and nothing else.
 * Source of the fit: Frisen 1986, The Statistician 35, 479 (unimodal regression).
 */
function levelsOf(members: number[][], signal: Float64Array): Float64Array {
  const medians = Float64Array.from(members, (indices) => median(Float64Array.from(indices, (i) => signal[i]!)));
  return unimodal(
    medians,
    Float64Array.from(members, (indices) => indices.length),
  );
}

/** Level at a pressure by interpolation between the slices' centres; flat beyond the outermost. */
function levelBetween(centres: Float64Array, level: Float64Array, p: number): number {
  const last = centres.length - 1;
  if (p <= centres[0]!) return level[0]!;
  if (p >= centres[last]!) return level[last]!;
  let next = 1;
  while (centres[next]! < p) next += 1;
  const part = (p - centres[next - 1]!) / (centres[next]! - centres[next - 1]!);
  return level[next - 1]! + part * (level[next]! - level[next - 1]!);
}

/** What a drawn curve leaves of the signal at each pressure, in the signal's unit. */
export const residualsOfCurve = (curve: SteadyCurve, pressure: Float64Array, signal: Float64Array): Float64Array =>
  signal.map((value, i) => value - levelBetween(curve.pressure, curve.signal, pressure[i]!));

/**
 * How far a fitted curve lies from the free one beyond what the noise of the slices' medians explains: root mean square over
 * the slices, as a share of the plateau.
 *
 * @param fitted     the fitted signal at each reading
 * @param inflation  how many readings one independent reading stands for
 * @param digit      what the signal meter's last digit is worth
 */
export function distanceFromFreeCurve(
  pressure: Float64Array,
  signal: Float64Array,
  fitted: Float64Array,
  tested: [number, number],
  plateau: number,
  inflation: number,
  digit: number,
): number {
  const members = sliced(pressure, tested);
  const free = levelsOf(members, signal);
  let squares = 0;
  members.forEach((indices, k) => {
    const off = free[k]! - median(Float64Array.from(indices, (i) => fitted[i]!));
    const noise = Math.max(digit / 2, robustDeviation(Float64Array.from(indices, (i) => signal[i]! - fitted[i]!)));
    // Variance of a median of n normal readings: pi s^2 / (2 n).
    squares += off ** 2 - (Math.PI / 2) * noise ** 2 * Math.min(1, inflation / indices.length);
  });
  return Math.sqrt(Math.max(0, squares) / members.length) / Math.abs(plateau);
}

/**
 * The signal interval where no model follows the readings: of the free curve, with intervals from a dependent wild bootstrap
 * of the readings around it (Shao 2010, JASA 105, 218). The distance of the slices is doubt of its own: where between them a
 * level is passed is not known (rectangle, JCGM 100:2008 4.3.7).
 */
export function freeSignalInterval(options: {
  elapsedS: Float64Array;
  pressure: Float64Array;
  signal: Float64Array;
  tested: [number, number];
  dropFraction: number;
  minimum: number | undefined;
  confidence: number;
  /** Seconds over which the multipliers of the bootstrap stay alike, and independent stretches behind an end. */
  stretchS: number;
  degrees: number;
  seed: number;
}): SignalInterval {
  const { elapsedS, pressure, signal, tested, dropFraction, minimum, confidence, degrees } = options;
  const members = sliced(pressure, tested);
  const centres = centresOf(members, pressure);
  const drawn = plotPressures(tested);
  const find = (level: Float64Array) => {
    const levelAt = (p: number) => levelBetween(centres, level, p);
    const levels = drawn.map(levelAt);
    return {
      levels,
      ...findCurveEnds({ pressure: drawn, signal: levels, levelAt }, [-Infinity, Infinity], dropFraction, minimum),
    };
  };
  const free = levelsOf(members, signal);
  const found = find(free);
  const around = pressure.map((p) => levelBetween(centres, free, p));

  const redraw = correlatedMultipliers(elapsedS, options.stretchS, createRandom(options.seed));
  const multipliers = new Float64Array(signal.length);
  const draws = { low: new Float64Array(replicateCount), high: new Float64Array(replicateCount) };
  const plateaus = new Float64Array(replicateCount);
  const bands = Array.from(drawn, () => new Float64Array(replicateCount));
  const again = new Float64Array(signal.length);
  for (let b = 0; b < replicateCount; b += 1) {
    redraw(multipliers);
    for (let k = 0; k < signal.length; k += 1) again[k] = around[k]! + multipliers[k]! * (signal[k]! - around[k]!);
    const redrawn = find(levelsOf(members, again));
    plateaus[b] = redrawn.plateau;
    draws.low[b] = redrawn.low?.value ?? Number.NaN;
    draws.high[b] = redrawn.high?.value ?? Number.NaN;
    for (let i = 0; i < drawn.length; i += 1) bands[i]![b] = redrawn.levels[i]!;
  }

  // The highest of many levels lies above the true one by chance, as likely as by right: how far it stands above the middle
  // of the good ones is doubt of its own.
  const { low: from, high: to } = found;
  const good = free.filter((_, k) => from && to && centres[k]! >= from.value && centres[k]! <= to.value);
  const aboveMiddle = good.length > 0 ? found.plateau - median(good) : 0;
  // Between two slices the level may fall anywhere (rectangle), and inside a slice as well.
  const between = (p: number) => {
    const next = centres.findIndex((centre) => centre >= p);
    const gap = next > 0 ? centres[next]! - centres[next - 1]! : 0;
    return Math.max(gap, (tested[1] - tested[0]) / slices) / Math.sqrt(12);
  };
  const end = (side: 'low' | 'high'): SignalEnd | undefined => {
    const at = found[side];
    if (!at) return undefined;
    const doubt: Estimate = at.bounded
      ? addUncertainty(bootstrapInterval(at.value, draws[side], confidence, degrees), between(at.value), confidence)
      : exactEstimate(at.value);
    return { ...at, ...doubt };
  };
  const [low, high] = [end('low'), end('high')];
  const band = bands.map((levels, i) => bootstrapInterval(found.levels[i]!, levels, confidence, degrees).ci);
  return {
    status: intervalStatus(low, high),
    plateau: addUncertainty(bootstrapInterval(found.plateau, plateaus, confidence, degrees), aboveMiddle, confidence),
    required: requiredSignal(found.plateau, dropFraction, minimum),
    ...(low && high && { low, high }),
    curve: { pressure: drawn, signal: found.levels },
    band: { low: Float64Array.from(band, (ci) => ci[0]), high: Float64Array.from(band, (ci) => ci[1]) },
    replicates: draws,
  };
}
