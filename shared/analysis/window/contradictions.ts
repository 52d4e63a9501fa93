import type { Trial } from '../../model/capture.ts';
import { isProvedBeforeSpark, isSparkTooLate, provedAfter } from '../../model/trials/valid-trials.ts';
import { convertPressure, type PressureUnit } from '../../model/units.ts';
import type { DropOut } from '../sweep/flame/drop-outs.ts';
import type { LossWithGasOn } from '../sweep/flame/losses-with-gas-on.ts';
import type { DarkStretch } from '../sweep/flame/flame-loss.ts';
import type { Pairs } from '../sweep/series/pairs.ts';
import { burnsOtherwise } from './losses/middle-losses.ts';
import type { SignalInterval } from './ends/signal-interval.ts';

/** Evidence that contradicts the rest; pressures in the capture's unit. All empty when everything agrees. */
export interface Contradictions {
  /** Failed to light where the signal is good, though not between pressures that lit. */
  failedWhereGood: number[];
  /** Lit where the signal is not good enough. */
  litWhereBad: number[];
  /** Flame lost at a pressure where it burned well otherwise: below and above, or before and after. */
  lostWhereGood: number[];
  /** Lit, but proved later than the pilot trial lasts. */
  provedLate: { pressure: number; seconds: number }[];
  /** Pressures of trials whose flame is written down as proved before the spark, rising. */
  provedBeforeSpark: number[];
  /** Pressures of trials whose spark came when the trial for ignition was over. */
  sparkTooLate: number[];
  /** When two trials or more are written down as made at once, seconds. */
  atOnce: number[];
}

/** What contradictions are looked for in. */
export interface ContradictionInput extends Pairs {
  trials: Trial[];
  unit: PressureUnit;
  trialSeconds: number;
  interval: SignalInterval;
  /** Failures that are already known to contradict other trials. */
  contradicting: readonly number[];
  darkStretches: DarkStretch[];
  dropOuts: readonly DropOut[];
  /** Losses with gas on that the burner's states tell, but for those that come again and again at an end. */
  toldLosses: readonly LossWithGasOn[];
  /** Losses with gas on outside of the sweep, such as one at the setting. */
  lossesOutside: readonly { pressure: number }[];
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
  // A flame that was proved, or a spark that came, but too late: the trial failed, the pressure may be good.
  const hasLateSpark = (trial: Trial) => isSparkTooLate(trial, input.trialSeconds);
  const isProvedLate = (trial: Trial) =>
    (trial.timeToProveS ?? trial.timeToProveFromSparkS) !== undefined &&
    provedAfter(trial) > input.trialSeconds &&
    !hasLateSpark(trial);
  return {
    failedWhereGood: pressuresOf(
      trials.filter(
        (trial) =>
          !trial.lit &&
          !isProvedLate(trial) &&
          !hasLateSpark(trial) &&
          isGood(trial.pressure) &&
          !input.contradicting.includes(trial.pressure),
      ),
    ),
    litWhereBad: pressuresOf(trials.filter(({ lit, pressure }) => lit && isBad(pressure))),
    lostWhereGood: lossesWhereGood(input),
    provedBeforeSpark: pressuresOf(trials.filter(isProvedBeforeSpark)),
    atOnce: momentsOfSeveral(trials),
    sparkTooLate: pressuresOf(trials.filter(hasLateSpark)),
    provedLate: trials.filter(isProvedLate).map((trial) => ({ pressure: trial.pressure, seconds: provedAfter(trial) })),
  };
}

/** Trials that began less than this apart are written down as one moment, seconds: gas was not shut between them. */
const apartS = 1;

/** Moments at which more than one trial began, seconds, each once. */
function momentsOfSeveral(trials: readonly Trial[]): number[] {
  const times = trials.flatMap(({ elapsedS }) => elapsedS ?? []).sort((a, b) => a - b);
  const isSame = (i: number) => times[i]! - times[i - 1]! < apartS;
  return times.filter((_, i) => i + 1 < times.length && isSame(i + 1) && !(i > 0 && isSame(i)));
}

/** Pressures at which the flame was lost although it burned well there otherwise, rising. */
function lossesWhereGood({
  darkStretches,
  dropOuts,
  toldLosses,
  lossesOutside,
  interval,
  tested,
  pressureAt,
  unit,
  ...pairs
}: ContradictionInput): number[] {
  const isGood = burnsOtherwise(pairs, tested, interval.required.value, darkStretches, pressureAt, unit);
  // A signal that fell by half was that of a flame that went out: none flickers so far down, and back again.
  const gone = dropOuts.filter(({ least }) => least < interval.plateau.value / 2);
  // A slow detector is not dark yet when gas is shut or the flame is back: the states tell the loss nevertheless.
  const isKnown = ({ fromS, litS }: LossWithGasOn) =>
    darkStretches.some(({ lostS, relitS }) => lostS <= litS && relitS >= fromS) ||
    dropOuts.some(({ fromS: fellS, settledS }) => fellS <= litS && settledS >= fromS);
  const told = toldLosses.filter((loss) => !isKnown(loss)).map(({ fromS }) => fromS);
  return [
    ...[...darkStretches.map(({ lostS }) => lostS), ...told]
      .map((lostS) => ({ lostS, lostAt: pressureAt(lostS) }))
      .filter(isGood)
      .map(({ lostAt }) => lostAt),
    ...gone.map(({ pressure }) => pressure),
    ...lossesOutside.map(({ pressure }) => pressure).filter((p) => isWellInside(p, interval)),
  ].sort((a, b) => a - b);
}

/** A loss nearer to an end than this share of the interval may be that end. */
const nearEnd = 0.1;

const isWellInside = (p: number, { low, high }: SignalInterval): boolean => {
  if (!low || !high) return false;
  const margin = nearEnd * (high.value - low.value);
  return p > low.value + margin && p < high.value - margin;
};
