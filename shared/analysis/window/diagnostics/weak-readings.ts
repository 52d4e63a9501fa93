import { lowerBound } from '../../../numerics/binomial.ts';
import type { FittedCurve } from '../../curve/fit-curve.ts';
import type { PreparedSweep } from '../../sweep/prepared-sweep.ts';
import type { Pairs } from '../../sweep/series/pairs.ts';
import { pressureAt } from '../../sweep/series/pressure-grid.ts';
import { longestLag } from '../../sweep/series/initial-estimates.ts';
import { typicalStep } from '../../sweep/series/series.ts';
import { flatPart } from '../ends/flat-part.ts';
import type { SignalInterval } from '../ends/signal-interval.ts';

/** How many readings on the flat part of the curve are too low, and between which pressures they were looked for. */
export interface WeakReadings {
  weak: number;
  readings: number;
  from: number;
  to: number;
  /** What they are below. */
  below: 'minimum' | 'required';
}

/**
 * A larger share of readings than this below what is required is no flame to trust, nor one below the entered minimum, at which a control may
 * take the flame for lost at once (common practice).
 */
const mostBelow = { required: 0.1, minimum: 0.02 };
/** One-sided: by chance alone a share as large as that is taken for larger in one sweep of a hundred. */
const confidence = 0.99;
/** Spikes, and readings that are averaged, leave no more than this between two of those that are used, in usual steps between readings. */
const spikeSteps = 4;

/** More weak readings than this in a row are an excursion, a loss or a shutter, which are told of by themselves. */
const longestRun = 3;

/**
 * Readings below what is required, or below the entered minimum, on the flat part of the curve, spikes with them, where they are clearly too many: a signal that scatters so
 * evenly that its mean is good all the same. Undefined where there are few, or no window.
 *
 * @param litPairs  readings while a flame burned
 */
export function findWeakReadings(
  { spikedSignal, grid, tracked, settings }: Pick<PreparedSweep, 'spikedSignal' | 'grid' | 'tracked' | 'settings'>,
  { curve }: Pick<FittedCurve, 'curve'>,
  { interval, litPairs }: { interval: SignalInterval; litPairs: Pairs },
): WeakReadings | undefined {
  const { required, status } = interval;
  if (status === 'none') return undefined;
  // On a shoulder the mean itself comes close to what is required.
  const [from, to] = flatPart(interval);
  const lagS = curve.fit.parameters[curve.layout.lag]!;
  const isLit = between(litPairs.elapsedS, spikeSteps * typicalStep(spikedSignal));
  const lost = tracked.spans.filter(({ flame }) => flame === 'lost' || flame === 'out' || flame === 'unknown');
  const isLost = (t: number) => lost.some(({ from_s, to_s }) => t > from_s - longestLag && t < to_s + longestLag);
  const flat: number[] = [];
  spikedSignal.time.forEach((t, i) => {
    const pressure = pressureAt(grid, t - lagS);
    const counts = pressure >= from && pressure <= to && isLit(t) && !isLost(t);
    flat.push(counts ? spikedSignal.value[i]! : Number.NaN);
  });
  const readings = flat.filter((value) => !Number.isNaN(value)).length;
  const found = (limit: number, what: WeakReadings['below'], most: number): WeakReadings | undefined => {
    const weak = countBelow(flat, limit);
    return lowerBound(weak, readings, confidence) > most ? { weak, readings, from, to, below: what } : undefined;
  };
  const { minimumSignal } = settings;
  return (
    (minimumSignal === undefined ? undefined : found(minimumSignal, 'minimum', mostBelow.minimum)) ??
    found(required.value, 'required', mostBelow.required)
  );
}

/** How many values lie below a limit in runs that are no excursion; NaN ends a run. */
function countBelow(values: readonly number[], limit: number): number {
  let [count, run] = [0, 0];
  for (const value of [...values, Number.NaN]) {
    if (value < limit) run += 1;
    else {
      if (run <= longestRun) count += run;
      run = 0;
    }
  }
  return count;
}

/** Whether a time lies between two of these no more than `mostS` apart, or is one of them; asked in rising order. */
function between(times: Float64Array, mostS: number): (timeS: number) => boolean {
  let next = 0;
  return (timeS) => {
    while (next < times.length && times[next]! < timeS) next += 1;
    if (times[next] === timeS) return true;
    return next > 0 && next < times.length && times[next]! - times[next - 1]! <= mostS;
  };
}
