import type { IntervalStatus } from '../../../model/results/analysis-result.ts';
import type { Estimate } from '../../curve/estimate.ts';
import type { RequiredSignal } from '../../sweep/required-signal.ts';
import type { CurveEnd } from './curve-ends.ts';

/** The steady curve on a grid over the tested pressures, as it is plotted. */
export interface SteadyCurve {
  pressure: Float64Array;
  signal: Float64Array;
}

/**
 * One end of the signal interval, in pressure. `flameLost`: the flame was lost there. `slope`: signal per pressure at the end.
 */
export interface SignalEnd extends Estimate, CurveEnd {}

/** The run of pressures over which the steady signal is good, with what it rests on. */
export interface SignalInterval {
  status: IntervalStatus;
  plateau: Estimate;
  required: RequiredSignal;
  low?: SignalEnd;
  high?: SignalEnd;
  curve: SteadyCurve;
  /** Pointwise interval of the curve, one pair of signals for each of its pressures. */
  band: { low: Float64Array; high: Float64Array };
  /** Both ends in each bootstrap replicate, drawn together; NaN where that replicate has no such end. */
  replicates: { low: Float64Array; high: Float64Array };
}

/** Points of the curve as it is plotted. */
const gridPoints = 401;
/** Pressures of the plotted curve, evenly from the lowest to the highest tested one. */
export const plotPressures = ([low, high]: readonly [number, number]): Float64Array =>
  Float64Array.from({ length: gridPoints }, (_, i) => low + ((high - low) * i) / (gridPoints - 1));

/** Which ends were found; `none` when there is no good pressure. */
export function intervalStatus(low: SignalEnd | undefined, high: SignalEnd | undefined): IntervalStatus {
  if (!low || !high) return 'none';
  if (low.bounded && high.bounded) return 'bounded';
  if (low.bounded) return 'open-high';
  return high.bounded ? 'open-low' : 'open-both';
}

/** Pressures below and above which the flame was lost; infinite where it never was. A flame is lost at the nearer end. */
export function lossLimits(
  lossesAt: readonly number[],
  [lowest, highest]: readonly [number, number],
): [number, number] {
  const isLow = (lost: number) => lost - lowest < highest - lost;
  return [
    Math.max(-Infinity, ...lossesAt.filter(isLow)),
    Math.min(Infinity, ...lossesAt.filter((lost) => !isLow(lost))),
  ];
}
