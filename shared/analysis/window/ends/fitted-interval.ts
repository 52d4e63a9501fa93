import { normalQuantile } from '../../../numerics/distributions.ts';
import { exp, log } from '../../../numerics/elementary.ts';
import type { Replicates } from '../../curve/bootstrap.ts';
import { degreesAbove, type DegreesOfFreedom } from '../../curve/effective-sample-size.ts';
import { bootstrapInterval, exactEstimate } from '../../curve/estimate.ts';
import type { CurveFit } from '../../curve/fit-shape.ts';
import { lossPressures } from '../../sweep/flame/flame-loss.ts';
import { pressureAt, type PressureGrid } from '../../sweep/series/pressure-grid.ts';
import { requiredShift, requiredSignal } from '../../sweep/required-signal.ts';
import { findCurveEnds, sampleCurve } from './curve-ends.ts';
import { drawEnds } from './end-replicates.ts';
import { withLeaving } from './end-uncertainty.ts';
import { highestLevelBias, withPlateauBias, withRequiredBias } from './highest-level.ts';
import { withMoment } from './loss-moment.ts';
import {
  intervalStatus,
  lossLimits,
  plotPressures,
  type SignalEnd,
  type SignalInterval,
  type SteadyCurve,
} from './signal-interval.ts';

/** Every fourth of the plotted pressures is enough for the replicates: their ends are found between the points, their band interpolated. */
const stride = 4;
/** Widths of a logistic between 90 % and 10 %: 2 ln 9. */
const ninetyToTen = 2 * log(9);

/** What `fittedSignalInterval` works on; pressures and signals in the sweep's units. */
export interface FittedCurveInput {
  fit: CurveFit;
  replicates: Replicates;
  grid: PressureGrid;
  tested: readonly [number, number];
  /** Pressure that belongs to each reading of the signal, lag removed. */
  pressures: Float64Array;
  dropFraction: number;
  /** Minimum signal, undefined where none is asked for. */
  minimum: number | undefined;
  confidence: number;
  degrees: DegreesOfFreedom;
  /** Standard uncertainty of one reading of the manometer, from its noise and last digit, in the sweep's unit. */
  pressureU: number;
  /** Standard uncertainty of the moment of a loss, seconds. */
  lossTimeU: number;
  /** A fall from 90 % to 10 % within less than this pressure is no shoulder: the flame was lost. */
  cliffWidth: number;
  /** For each loss of the fit whether the flame burned well on both sides of it: such a loss is no end. */
  inMiddle: readonly boolean[];
}

/**
 * The run of pressures around the plateau over which the steady curve is at or above the required signal, each end with
 * an interval from the replicates. An end that the tested pressures do not reach is not bounded and lies at the last
 * tested pressure.
 */
export function fittedSignalInterval(input: FittedCurveInput): SignalInterval {
  const { fit, replicates, grid, tested, dropFraction, minimum, confidence, degrees, lossTimeU } = input;
  const { layout } = fit;
  const beyond = normalQuantile((1 + confidence) / 2) * input.pressureU;
  const pressure = plotPressures(tested);
  const coarse = pressure.filter((_, i) => i % stride === 0);
  const lossesOf = (x: Float64Array) =>
    layout.flameLoss < 0 ? [] : lossPressures(grid, x, layout.flameLoss).filter((_, k) => !input.inMiddle[k]);
  const limitsOf = (x: Float64Array) => lossLimits(lossesOf(x), tested);
  const curve = { pressure, signal: sampleCurve(fit, pressure).signal };
  const ends = findCurveEnds(sampleCurve(fit, coarse), limitsOf(fit.fit.parameters), dropFraction, minimum);
  const drawn = drawEnds(fit, replicates, ends, coarse, dropFraction, limitsOf);
  const bias = highestLevelBias(ends, coarse, drawn.levels);
  const required = requiredSignal(ends.plateau, dropFraction, minimum);
  const requiredBias = requiredShift(required, ends.plateau, bias);
  const end = (side: 'low' | 'high'): SignalEnd | undefined => {
    const found = ends[side];
    if (!found) return undefined;
    const onSide: [number, number] = side === 'low' ? [-Infinity, ends.top] : [ends.top, Infinity];
    const freedom = found.flameLost
      ? degrees[side]
      : degreesAbove(fit, input.pressures, onSide, ends.required, degrees[side]);
    const estimate = found.bounded
      ? withRequiredBias(
          bootstrapInterval(found.value, drawn[side], confidence, freedom),
          side,
          curve,
          ends.required,
          found.flameLost ? 0 : requiredBias,
        )
      : exactEstimate(found.value);
    // An end that was found lies inside the tested pressures, as far as these are known, whatever the replicates say.
    estimate.ci = [Math.max(tested[0] - beyond, estimate.ci[0]), Math.min(tested[1] + beyond, estimate.ci[1])];
    // A loss is one moment of a moving pressure: the uncertainty of that moment does not average out as on a shoulder.
    const lostS = found.flameLost ? momentOfLoss(fit, grid, found.value) : undefined;
    const timed =
      lostS === undefined
        ? estimate
        : withLeaving(
            withMoment(estimate, grid, lostS, { timeU: lossTimeU, pressureU: input.pressureU }),
            side,
            rateAround(grid, lostS),
          );
    const flameLost = found.flameLost || (found.bounded && isCliff(fit, side, input.cliffWidth));
    return { ...found, flameLost, ...timed };
  };
  const [low, high] = [end('low'), end('high')];
  return {
    status: intervalStatus(low, high),
    plateau: withPlateauBias(bootstrapInterval(ends.plateau, drawn.plateau, confidence, degrees.both), bias),
    required,
    ...(low && high && { low, high }),
    curve,
    replicates: { low: drawn.low, high: drawn.high },
    band: bandOf(curve, drawn.levels, confidence, degrees.both),
  };
}

/** Pointwise interval of the curve from the levels of the replicates at every `stride`-th pressure, interpolated between. */
function bandOf(
  curve: SteadyCurve,
  levels: Float64Array[],
  confidence: number,
  degrees: number,
): SignalInterval['band'] {
  const deviations = levels.map((values, i) => {
    const level = curve.signal[i * stride]!;
    const { ci } = bootstrapInterval(level, values, confidence, degrees);
    return [ci[0] - level, ci[1] - level] as const;
  });
  const band = (side: 0 | 1) =>
    curve.signal.map((level, i) => {
      const before = Math.min(deviations.length - 2, Math.floor(i / stride));
      const part = i / stride - before;
      return level + deviations[before]![side] * (1 - part) + deviations[before + 1]![side] * part;
    });
  return { low: band(0), high: band(1) };
}

/** Whether the shoulder on one side falls within less than `cliffWidth`. */
function isCliff({ fit, layout }: CurveFit, side: 'low' | 'high', cliffWidth: number): boolean {
  const width = layout[side === 'low' ? 'lowWidth' : 'highWidth'];
  return width >= 0 && ninetyToTen * exp(fit.parameters[width]!) < cliffWidth;
}

/** When the flame was lost at `value`, seconds. */
function momentOfLoss(fit: CurveFit, grid: PressureGrid, value: number): number | undefined {
  const x = fit.fit.parameters;
  for (let at = fit.layout.flameLoss; at + 1 < x.length; at += 2)
    if (Math.abs(pressureAt(grid, x[at]!) - value) < 1e-9) return x[at];
  return undefined;
}

/** How fast the pressure moved around a moment, pressure per second. */
const rateAround = (grid: PressureGrid, atS: number): number =>
  Math.abs(pressureAt(grid, atS + 0.5) - pressureAt(grid, atS - 0.5));
