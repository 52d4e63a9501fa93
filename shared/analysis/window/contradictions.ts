import type { Trial } from '../../model/capture.ts';
import { convertPressure, type PressureUnit } from '../../model/units.ts';
import type { DarkStretch } from '../sweep/flame-loss.ts';
import type { SignalInterval } from './signal-interval.ts';

/** Evidence that contradicts the rest; pressures in the capture's unit. All empty when everything agrees. */
export interface Contradictions {
  /** Failed to light where the signal is good, though not between pressures that lit. */
  failedWhereGood: number[];
  /** Lit where the signal is not good enough. */
  litWhereBad: number[];
  /** Flame lost at a pressure below and above which it burned well. */
  lostWhereGood: number[];
  /** Lit, but proved later than the pilot trial lasts. */
  provedLate: { pressure: number; seconds: number }[];
}

/** What contradictions are looked for in; `elapsedS`, `pressure` and `signal` per reading, lag removed, same length. */
export interface ContradictionInput {
  trials: Trial[];
  unit: PressureUnit;
  trialSeconds: number;
  interval: SignalInterval;
  /** Failures that are already known to contradict other trials. */
  contradicting: readonly number[];
  darkStretches: DarkStretch[];
  elapsedS: Float64Array;
  pressure: Float64Array;
  signal: Float64Array;
  pressureAt: (elapsedS: number) => number;
  tested: readonly [number, number];
}

/** Looks for evidence that contradicts the rest, so that it is shown and not averaged away. */
export function findContradictions(input: ContradictionInput): Contradictions {
  const { low, high } = input.interval;
  const trials = input.trials.map((trial) => ({
    ...trial,
    pressure: convertPressure(trial.pressure, trial.unit, input.unit),
  }));
  const pressuresOf = (list: { pressure: number }[]) => list.map(({ pressure }) => pressure).sort((a, b) => a - b);
  // Clearly good, and clearly not: what lies inside the interval of an end contradicts nothing.
  const isGood = (p: number) => low !== undefined && high !== undefined && p > low.ci[1] && p < high.ci[0];
  const isBad = (p: number) => (low?.bounded && p < low.ci[0]) || (high?.bounded && p > high.ci[1]);
  return {
    failedWhereGood: pressuresOf(
      trials.filter(({ lit, pressure }) => !lit && isGood(pressure) && !input.contradicting.includes(pressure)),
    ),
    litWhereBad: pressuresOf(trials.filter(({ lit, pressure }) => lit && isBad(pressure))),
    lostWhereGood: lossesWhereGood(input),
    provedLate: trials
      .filter(({ lit, timeToProveS }) => lit && timeToProveS !== undefined && timeToProveS > input.trialSeconds)
      .map(({ pressure, timeToProveS }) => ({ pressure, seconds: timeToProveS! })),
  };
}

/** Readings on each side of a loss that show that the flame burned there: two may be the moment of the loss itself. */
const minReadings = 3;

/**
 * Pressures at which the flame was lost although it burned on both sides: one that is lost at a cliff does not burn beyond it.
 */
function lossesWhereGood(input: ContradictionInput): number[] {
  const { elapsedS, pressure, signal, interval, darkStretches, tested } = input;
  // A thirtieth of the tested pressures: in a sweep of a minute each way a lag that is wrong by two seconds moves a reading so
  // far.
  const margin = (tested[1] - tested[0]) / 30;
  const isDark = (t: number) => darkStretches.some(({ lostS, relitS }) => t >= lostS && t <= relitS);
  const burning = pressure.filter((_, i) => signal[i]! >= interval.required.value && !isDark(elapsedS[i]!));
  return darkStretches
    .map(({ lostS }) => input.pressureAt(lostS))
    .filter(
      (lost) =>
        burning.filter((p) => p < lost - margin).length >= minReadings &&
        burning.filter((p) => p > lost + margin).length >= minReadings,
    )
    .sort((a, b) => a - b);
}
