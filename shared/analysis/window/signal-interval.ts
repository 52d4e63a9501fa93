import type { IntervalStatus } from '../../model/analysis-result.ts';
import { exp, log } from '../../numerics/elementary.ts';
import type { Replicates } from '../curve/bootstrap.ts';
import { curveAt, sharpClip } from '../curve/curve-model.ts';
import { addUncertainty, bootstrapInterval, type Estimate, exactEstimate } from '../curve/estimate.ts';
import type { CurveFit } from '../curve/fit-shape.ts';
import { lossPressures } from '../sweep/flame-loss.ts';
import { pressureAt, type PressureGrid } from '../sweep/pressure-grid.ts';
import { type CurveEnds, findCurveEnds, type RequiredSignal, requiredSignal } from './curve-ends.ts';

/** The steady curve on a grid over the tested pressures. */
export interface SteadyCurve {
  pressure: Float64Array;
  signal: Float64Array;
}

/** One end of the signal interval. `flameLost`: the flame went out there. `slope`: signal per pressure at the end. */
export interface SignalEnd extends Estimate {
  bounded: boolean;
  flameLost: boolean;
  slope: number;
}

export interface SignalInterval {
  status: IntervalStatus;
  plateau: Estimate;
  required: RequiredSignal;
  low?: SignalEnd;
  high?: SignalEnd;
  curve: SteadyCurve;
  band: { low: Float64Array; high: Float64Array };
  /** Both ends in each replicate, drawn together; NaN where that replicate has no such end. */
  replicates: { low: Float64Array; high: Float64Array };
}

/** Points of the curve as it is drawn. */
const gridPoints = 401;

/** Evenly from the lowest to the highest tested pressure. */
export const plotPressures = ([low, high]: readonly [number, number]): Float64Array =>
  Float64Array.from({ length: gridPoints }, (_, i) => low + ((high - low) * i) / (gridPoints - 1));

/** Every fourth of them is enough for the replicates: their ends are found between the points, their band interpolated. */
const stride = 4;

/** Widths of a logistic between 90 % and 10 %: 2 ln 9. */
const ninetyToTen = 2 * log(9);

/**
 * The run of pressures around the plateau over which the steady curve is at or above the required signal, each end with
 * an interval from the replicates. An end that the tested pressures do not reach is not bounded and lies at the last
 * tested pressure.
 */
export function findSignalInterval(options: {
  fit: CurveFit;
  replicates: Replicates;
  grid: PressureGrid;
  tested: [number, number];
  dropFraction: number;
  minimum: number | undefined;
  confidence: number;
  /** Independent stretches that bear the low end, the high end, and all of the curve, less the parameters they bear. */
  degrees: { low: number; high: number; both: number };
  /** Standard uncertainty of the moment that a reading stands for, seconds. */
  momentU: number;
  /** A fall from 90 % to 10 % within less than this pressure is no shoulder: the flame was lost. */
  cliffWidth: number;
}): SignalInterval {
  const { fit, replicates, grid, tested, dropFraction, minimum, confidence, degrees, momentU, cliffWidth } = options;
  const pressure = plotPressures(tested);
  const few = pressure.filter((_, i) => i % stride === 0);
  const signal = new Float64Array(few.length);
  const find = (x: Float64Array): CurveEnds => {
    const still = sharpClip(x, fit.layout);
    curveAt(still, fit.layout, fit.scale, few, signal);
    const [at, level] = [new Float64Array(1), new Float64Array(1)];
    const levelAt = (p: number) => {
      at[0] = p;
      curveAt(still, fit.layout, fit.scale, at, level);
      return level[0]!;
    };
    return findCurveEnds({ pressure: few, signal, levelAt }, flameLimits(x, fit, grid, tested), dropFraction, minimum);
  };
  const isCliff = (side: 'low' | 'high') => {
    const width = fit.layout[side === 'low' ? 'lowWidth' : 'highWidth'];
    return width >= 0 && ninetyToTen * exp(fit.fit.parameters[width]!) < cliffWidth;
  };
  const curve = { pressure, signal: new Float64Array(gridPoints) };
  curveAt(sharpClip(fit.fit.parameters, fit.layout), fit.layout, fit.scale, pressure, curve.signal);
  const found = find(fit.fit.parameters);

  const { count, size } = replicates;
  const lows = new Float64Array(count);
  const highs = new Float64Array(count);
  const plateaus = new Float64Array(count);
  const levels = Array.from(few, () => new Float64Array(count));
  for (let b = 0; b < count; b += 1) {
    const again = find(replicates.parameters.subarray(b * size, (b + 1) * size));
    plateaus[b] = again.plateau;
    lows[b] = again.low?.value ?? Number.NaN;
    highs[b] = again.high?.value ?? Number.NaN;
    for (let i = 0; i < few.length; i += 1) levels[i]![b] = signal[i]!;
  }
  const doubts = levels.map((values, i) => {
    const level = curve.signal[i * stride]!;
    const { ci } = bootstrapInterval(level, values, confidence, degrees.both);
    return [ci[0] - level, ci[1] - level] as const;
  });
  const band = (side: 0 | 1) =>
    curve.signal.map((level, i) => {
      const before = Math.min(doubts.length - 2, Math.floor(i / stride));
      const part = i / stride - before;
      return level + doubts[before]![side] * (1 - part) + doubts[before + 1]![side] * part;
    });
  const end = (name: 'low' | 'high', values: Float64Array): SignalEnd | undefined => {
    const side = found[name];
    if (!side) return undefined;
    const doubt: Estimate = side.bounded
      ? bootstrapInterval(side.value, values, confidence, degrees[name])
      : exactEstimate(side.value);
    // A loss is one moment on a moving pressure: the doubt of that moment does not average out as on a shoulder.
    // An end that was found lies inside the tested pressures, whatever the replicates say.
    doubt.ci = [Math.max(tested[0], doubt.ci[0]), Math.min(tested[1], doubt.ci[1])];
    const moving = side.flameLost
      ? addUncertainty(doubt, momentU * rateAtLoss(fit, grid, side.value), confidence)
      : doubt;
    return { ...side, flameLost: side.flameLost || (side.bounded && isCliff(name)), ...moving };
  };
  const low = end('low', lows);
  const high = end('high', highs);
  return {
    status: intervalStatus(low, high),
    plateau: bootstrapInterval(found.plateau, plateaus, confidence, degrees.both),
    required: requiredSignal(found.plateau, dropFraction, minimum),
    ...(low && high && { low, high }),
    curve,
    replicates: { low: lows, high: highs },
    band: { low: band(0), high: band(1) },
  };
}

export function intervalStatus(low: SignalEnd | undefined, high: SignalEnd | undefined): IntervalStatus {
  if (!low || !high) return 'none';
  if (low.bounded && high.bounded) return 'bounded';
  if (low.bounded) return 'open-high';
  return high.bounded ? 'open-low' : 'open-both';
}

/** How fast the pressure moved when the flame was lost at `value`, pressure per second. */
function rateAtLoss(fit: CurveFit, grid: PressureGrid, value: number): number {
  const x = fit.fit.parameters;
  let rate = 0;
  for (let at = fit.layout.flameLoss; at + 1 < x.length; at += 2)
    if (Math.abs(pressureAt(grid, x[at]!) - value) < 1e-9)
      rate = Math.abs(pressureAt(grid, x[at]! + 0.5) - pressureAt(grid, x[at]! - 0.5));
  return rate;
}

/** Pressures below and above which the flame was lost; infinite where it never was. */
function flameLimits(x: Float64Array, fit: CurveFit, grid: PressureGrid, tested: [number, number]): [number, number] {
  let below = -Infinity;
  let above = Infinity;
  if (fit.layout.flameLoss < 0) return [below, above];
  for (const { lost } of lossPressures(grid, x, fit.layout.flameLoss)) {
    // A flame is lost at one of the ends: the nearer one.
    if (lost - tested[0] < tested[1] - lost) below = Math.max(below, lost);
    else above = Math.min(above, lost);
  }
  return [below, above];
}
