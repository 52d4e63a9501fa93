import type { Trial } from '../../model/capture.ts';
import { convertPressure, type PressureUnit } from '../../model/units.ts';
import type { DarkStretch } from '../sweep/flame-loss.ts';
import type { SignalInterval } from './signal-interval.ts';

/** Evidence that speaks against the rest; pressures in the capture's unit. All empty when everything agrees. */
export interface Contradictions {
  /** Failed to light where the signal is good, though not between pressures that lit. */
  failedWhereGood: number[];
  /** Lit where the signal is not good enough. */
  litWhereBad: number[];
  /** Flame lost at a pressure below and above which it burnt well. */
  lostWhereGood: number[];
  /** Lit, but proved later than the pilot trial lasts. */
  provedLate: { pressure: number; seconds: number }[];
}

/** What the search for contradictions looks at; `pressure`, `signal` and `elapsedS` per reading, lag removed, same length. */
export interface ContradictionInput {
  trials: Trial[];
  unit: PressureUnit;
  trialSeconds: number;
  interval: SignalInterval;
  contradicting: readonly number[];
  dark: DarkStretch[];
  elapsedS: Float64Array;
  pressure: Float64Array;
  signal: Float64Array;
  pressureAt: (elapsedS: number) => number;
  tested: readonly [number, number];
}

/** Looks for evidence that speaks against the rest, to show it instead of averaging it away. */
export function findContradictions(seen: ContradictionInput): Contradictions {
  const { low, high } = seen.interval;
  const trials = seen.trials.map((trial) => ({
    ...trial,
    pressure: convertPressure(trial.pressure, trial.unit, seen.unit),
  }));
  const inOrder = (list: { pressure: number }[]) => list.map(({ pressure }) => pressure).sort((a, b) => a - b);
  // Beyond doubt good, and beyond doubt not: what lies inside the interval of an end contradicts nothing.
  const isGood = (p: number) => low !== undefined && high !== undefined && p > low.ci[1] && p < high.ci[0];
  const isBad = (p: number) => (low?.bounded && p < low.ci[0]) || (high?.bounded && p > high.ci[1]);
  return {
    failedWhereGood: inOrder(
      trials.filter(({ lit, pressure }) => !lit && isGood(pressure) && !seen.contradicting.includes(pressure)),
    ),
    litWhereBad: inOrder(trials.filter(({ lit, pressure }) => lit && isBad(pressure))),
    lostWhereGood: lostWhereGood(seen),
    provedLate: trials
      .filter(({ lit, timeToProveS }) => lit && timeToProveS !== undefined && timeToProveS > seen.trialSeconds)
      .map(({ pressure, timeToProveS }) => ({ pressure, seconds: timeToProveS! })),
  };
}

/** A flame that is lost at a cliff does not burn beyond it: here it did, at three readings or more on each side. */
function lostWhereGood(seen: ContradictionInput): number[] {
  const { elapsedS, pressure, signal, interval, dark, tested } = seen;
  // A thirtieth of the tested pressures: further than a lag that is a little wrong can move a reading (common practice).
  const margin = (tested[1] - tested[0]) / 30;
  const isDark = (t: number) => dark.some(({ lostS, relitS }) => t >= lostS && t <= relitS);
  const burnt = pressure.filter((_, i) => signal[i]! >= interval.required.value && !isDark(elapsedS[i]!));
  return dark
    .map(({ lostS }) => seen.pressureAt(lostS))
    .filter(
      (p) => burnt.filter((at) => at < p - margin).length >= 3 && burnt.filter((at) => at > p + margin).length >= 3,
    )
    .sort((a, b) => a - b);
}
