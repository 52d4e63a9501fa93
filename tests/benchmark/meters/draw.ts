import type { Capture } from '../../../shared/model/capture.ts';
import type { Reading } from '../../../shared/model/reading.ts';
import type { Setup } from '../../../shared/model/setup.ts';
import { createRandom, type Random } from '../../../shared/numerics/random.ts';
import type { TrueCurve } from '../sweep/burner.ts';
import { captureOf, type MeterRole, simulateSweep, stepS, type SweepFacts } from '../sweep/simulate.ts';
import { type SweepTruth, truthOf } from '../sweep/truth.ts';

/** Numbers of one case, drawn from its seed. */
export interface Draws {
  random: Random;
  between: (a: number, b: number) => number;
  oneOf: <T>(values: readonly T[]) => T;
}

/** @param salt  another number for each kind, so that kinds do not share their draws */
export function drawsOf(seed: number, salt: number): Draws {
  const random = createRandom((seed * 7919 + salt * 104_729 + 23) >>> 0);
  return {
    random,
    between: (a, b) => a + (b - a) * random.uniform(),
    oneOf: (values) => values[Math.floor(values.length * random.uniform())]!,
  };
}

/** A plain burner with two shoulders, swept down, up and back. Pressures in inH2O, signals in V, times in s. */
export function plainFacts({ between, oneOf }: Draws): SweepFacts {
  const curve: TrueCurve = {
    dark: between(0, 0.05),
    amplitude: between(3, 5),
    low: between(0.9, 1.6),
    lowWidth: between(0.04, 0.12),
    high: between(3.4, 4.6),
    highWidth: between(0.05, 0.18),
    clip: 10,
    lossBelow: -1,
    lowRound: 1,
    highRound: 1,
  };
  return {
    curve,
    tested: [curve.low - between(0.3, 0.5), curve.high + between(0.4, 0.7)],
    speed: between(0.03, 0.08),
    stairs: oneOf([false, false, true]),
    deadS: Math.round(between(0.05, 0.5) / stepS) * stepS,
    lagS: between(0.3, 1.4),
    manometerLagS: between(0.05, 0.2),
    white: between(0.005, 0.03),
    flicker: between(0.03, 0.12),
    manometerHz: oneOf([2, 5, 10]),
    signalHz: oneOf([2, 4, 5, 10]),
    digits: { pressure: oneOf([0.001, 0.01]), signal: oneOf([0.001, 0.01]) },
    relight: 0.03,
  };
}

/** What a case is made of: its readings, what is true of it, and the seconds it lasted. */
export interface Drawn {
  readings: Reading[];
  truth: SweepTruth;
  durationS: number;
}

/** The sweep of these facts with fresh noise, and its truth by the definitions. */
export function sweepOf(facts: SweepFacts, { random }: Draws, setup: Setup = {}): Drawn {
  const { readings, durationS } = simulateSweep(facts, Math.floor(2 ** 31 * random.uniform()));
  return { readings, durationS, truth: truthOf(facts.curve, facts.tested, setup) };
}

/** The readings with every value of one meter changed. */
export const withValues = (
  readings: readonly Reading[],
  role: MeterRole,
  change: (value: number, elapsedS: number) => number,
): Reading[] =>
  readings.map((reading) => {
    if (reading.role !== role) return reading;
    const value = change(reading.value, reading.elapsedS);
    return { ...reading, value, raw: String(value) };
  });

/** The readings with one meter's clock ahead by `byS` seconds. */
export const withClock = (readings: readonly Reading[], role: MeterRole, byS: number): Reading[] =>
  readings
    .map((reading) => (reading.role === role ? { ...reading, elapsedS: reading.elapsedS + byS } : reading))
    .sort((a, b) => a.elapsedS - b.elapsedS);

/** The readings of a meter that repeats its last one between two times, seconds. */
export function frozenBetween(readings: readonly Reading[], role: MeterRole, fromS: number, toS: number): Reading[] {
  let held: number | undefined;
  return withValues(readings, role, (value, elapsedS) => {
    if (elapsedS < fromS || elapsedS > toS) return value;
    held ??= value;
    return held;
  });
}

/** A capture as a file gives it: readings alone. */
export const fileOf = (readings: readonly Reading[], setup: Setup = {}): Capture => captureOf([...readings], setup);
