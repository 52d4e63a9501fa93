import type { Reading, Role } from '../../model/reading.ts';
import { convertPressure, type PressureUnit } from '../../model/units.ts';
import { median as medianOf } from '../../numerics/descriptive.ts';
import { firstAboveNoise, secondsOfLevel } from './gas-onset.ts';
import { lightingPressure } from './lighting-pressure.ts';

/** What the meters say of one light-off trial. Times are elapsed seconds of the capture; pressures in `unit`. */
export interface MeasuredTrial {
  /** First sign of gas. */
  gasS: number;
  /** An `ignition` channel gave readings around the trial. */
  isSparkWired: boolean;
  /** Spark as wired, `gasS` where it was on before the gas; undefined where no ignition channel shows it. */
  sparkS?: number;
  /** First reading at which the flame was proved, not before `gasS`; undefined when it never was. */
  provedS?: number;
  /** The signal of a flame was there before the gas, or had begun to rise, and has not fallen since: it does not tell whether the pilot lit. */
  isSignalBefore?: true;
  /** Seconds between the last reading that showed the gas of before and the first that shows this one's; undefined where gas was shut for longer than is looked at. */
  shutForS?: number;
  /** The signal meter was silent until then: the flame was proved at an unknown moment before. */
  isProofUnseen?: true;
  /** The manometer showed the gas only after the flame was proved: how long that took, nobody saw. */
  isGasShownLate?: true;
  /** By how much the pressure rose within the steepest second, and in all: nearly all of it at once where a valve opened. */
  steepest: number;
  rise: number;
  /** Median pressure just before the gas, while it flowed and settled (see `lightingPressure`), and after it was shut. */
  pressureBefore?: number;
  pressure: number;
  pressureAfter?: number;
  unit: PressureUnit;
  lit: boolean;
}

/** What the measurement needs beside the readings. */
export interface TrialBounds {
  /** A time at which gas was still shut, and one by which the trial was over; seconds. */
  fromS: number;
  untilS: number;
  /** Signal at which the flame counts as proved, in the signal's unit. */
  provingSignal: number;
  /** Length of the trial for ignition, seconds: a flame proved later is not lit. */
  trialSeconds: number;
}

/** What is measured begins so long before the first sign of gas, or before a button said that the trial begins, seconds. */
export const beforeS = 3;

/** No valve shuts and opens again within so short a time, seconds: one that had stuck half way opened at once. */
export const shortestShutS = 0.5;

/** The pressure counts once it has stood for so long after the gas opened, seconds: lock-up still bleeds off before. */
export const settleS = 1;

/**
 * Measures one trial from the readings around it. Undefined without a pressure that rises.
 *
 * The gas is on from the first reading of the rise that stands out of the noise of those before it; the flame is proved at the first
 * reading at or above `provingSignal` after the last one with gas shut. Both are the times of readings: they are late by at most one
 * interval of the meter.
 *
 * @param readings  of both meters (others are ignored but `ignition`), any order
 */
export function measureTrial(readings: readonly Reading[], bounds: TrialBounds): MeasuredTrial | undefined {
  const { fromS, untilS, provingSignal, trialSeconds } = bounds;
  const of = (role: Role) =>
    readings
      .filter((r) => r.role === role && Number.isFinite(r.value) && r.elapsedS >= fromS && r.elapsedS <= untilS)
      .sort((a, b) => a.elapsedS - b.elapsedS);
  const every = of('pilot_pressure');
  const unit = every[0]?.unit as PressureUnit | undefined;
  if (!unit) return undefined;
  const all = every.map(({ value, unit: own }) => convertPressure(value, own as PressureUnit, unit));
  const start = afterGasBefore(all, every.filter(({ elapsedS }) => elapsedS <= fromS + beforeS).length);
  const [pressure, values] = [every.slice(start), all.slice(start)];
  const highest = Math.max(...values);
  const lowestBefore = Math.min(...values.slice(0, values.indexOf(highest) + 1));
  const rise = highest - lowestBefore;
  if (!(rise > 0)) return undefined;
  const half = lowestBefore + rise / 2;
  const crossing = values.findIndex((value) => value >= half);
  let tenth = crossing;
  while (tenth > 0 && values[tenth - 1]! > lowestBefore + 0.1 * rise) tenth -= 1;
  const onset = firstAboveNoise(values, tenth, rise, (i) => pressure[i]!.elapsedS);
  const gasS = pressure[onset]!.elapsedS;
  let end = crossing;
  while (end + 1 < values.length && values[end + 1]! >= half) end += 1;

  const after = values.filter((_, i) => i > end && pressure[i]!.elapsedS > pressure[end]!.elapsedS + settleS);
  // A damper that closes after a purge lets the pressure fall until just before: the last of them count.
  const lastBeforeS = pressure[onset - 1]?.elapsedS ?? -Infinity;
  const beforeFrom = pressure.findIndex(({ elapsedS }) => elapsedS >= lastBeforeS - secondsOfLevel);
  const before = values.slice(Math.max(0, Math.min(beforeFrom, onset - fewestOfLevel)), onset);
  const signal = of('flame_signal');
  const { wasThere, wasRising, fallenBelow } = signalBefore(signal, lastBeforeS, provingSignal);
  // What falls only once gas is shut says nothing of what it was before.
  const shutS = pressure[end]!.elapsedS;
  const counts = signal.findIndex(
    ({ elapsedS, value }) => elapsedS > lastBeforeS && (!wasThere || (value < fallenBelow && elapsedS <= shutS)),
  );
  const proof = counts < 0 ? -1 : signal.findIndex(({ value }, i) => i >= counts && value >= provingSignal);
  const reached = signal[proof];
  // A slow manometer shows the gas only after the flame: then it was proved at the first sign of gas at the latest.
  const provedS = reached && Math.max(gasS, reached.elapsedS);
  const flowing = pressure
    .slice(0, end + 1)
    .map(({ elapsedS }, i) => ({ elapsedS, value: values[i]! }))
    .filter(({ elapsedS }) => elapsedS >= gasS + settleS);
  const ignition = of('ignition');
  const isOn = ({ value }: Reading) => value >= 0.5;
  const wasOn = ignition.findLast(({ elapsedS }) => elapsedS <= gasS);
  const sparkS = wasOn && isOn(wasOn) ? gasS : ignition.find((r) => r.elapsedS > gasS && isOn(r))?.elapsedS;
  const isLit = provedS !== undefined && provedS - gasS <= trialSeconds;
  return {
    gasS,
    isSparkWired: ignition.length > 0,
    ...(sparkS !== undefined && { sparkS }),
    ...(provedS !== undefined && { provedS }),
    ...((wasThere ? counts < 0 : wasRising && reached) && { isSignalBefore: true as const }),
    ...(start > 0 && { shutForS: pressure[crossing]!.elapsedS - every[start - 1]!.elapsedS }),
    ...(reached && !isReadUntil(signal, proof) && { isProofUnseen: true as const }),
    ...(reached && reached.elapsedS < gasS && { isGasShownLate: true as const }),
    steepest: steepestRise(values.slice(0, end + 1), (i) => pressure[i]!.elapsedS),
    rise,
    ...(before.length > 0 && { pressureBefore: median(before) }),
    pressure: flowing.length > 0 ? lightingPressure(flowing, rise, provedS) : highest,
    ...(after.length > 0 && { pressureAfter: median(after) }),
    unit,
    lit: isLit,
  };
}

/** A signal that was there has fallen once it is this share of the way from the proving signal to the lowest one below that: noise is not enough. */
const fallen = 0.2;
/** A signal that is this share of the way up to the proving signal before the gas, and was not before, is on its way there without gas. */
const onItsWay = 0.5;

/**
 * What the flame signal was while gas was surely shut: at or above the proving signal, as that of a spark or hot refractory, so that it proves
 * nothing until it is `fallenBelow`; or on its way there.
 */
function signalBefore(signal: readonly Reading[], lastBeforeS: number, provingSignal: number) {
  const before = signal.filter(({ elapsedS }) => elapsedS <= lastBeforeS).map(({ value }) => value);
  const [lowest, lowestBefore] = [Math.min(...signal.map(({ value }) => value)), Math.min(...before)];
  const high = lowestBefore + onItsWay * (provingSignal - lowestBefore);
  return {
    wasThere: before.length > 0 && before.at(-1)! >= provingSignal,
    // One reading may be a peak of noise.
    wasRising: before.length > 2 && before.slice(-2).every((value) => value >= high),
    fallenBelow: provingSignal - fallen * Math.max(0, provingSignal - lowest),
  };
}

/** Readings that tell the pressure before the gas, at least. */
const fewestOfLevel = 3;

/** The most by which values rise within a second, or from one reading to the next where those are further apart. */
function steepestRise(values: readonly number[], timeOf: (i: number) => number): number {
  let most = 0;
  let from = 0;
  values.forEach((value, i) => {
    while (from < i - 1 && timeOf(i) - timeOf(from) > 1) from += 1;
    for (let k = from; k < i; k += 1) most = Math.max(most, value - values[k]!);
  });
  return most;
}

/** A meter that missed more than this many of its intervals was not read. */
const missedIntervals = 3;

/** Whether the meter gave a reading before the one at `at`, no longer ago than it usually does. */
function isReadUntil(readings: readonly Reading[], at: number): boolean {
  const steps = readings.slice(1).map(({ elapsedS }, i) => elapsedS - readings[i]!.elapsedS);
  return at > 0 && steps[at - 1]! <= missedIntervals * median(steps);
}

/**
 * Index of the first reading after the gas of the trial before was shut, where it was shut so lately that the first `lead` readings still
 * show it flow: its pressure and its flame are not those of this trial.
 */
function afterGasBefore(values: readonly number[], lead: number): number {
  if (lead === 0) return 0;
  const lowest = Math.min(...values.slice(0, lead));
  const shut = values.lastIndexOf(lowest, lead - 1);
  const half = (lowest + Math.max(...values.slice(shut))) / 2;
  return values.slice(0, shut).findLastIndex((value) => value >= half) + 1;
}

const median = (values: number[]): number => medianOf(Float64Array.from(values));
