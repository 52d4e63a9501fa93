import type { PressureUnit, SignalUnit } from '../../../shared/model/units.ts';
import type { Trace } from './burner/burner.ts';
import { type BurnerFacts, stepS } from './burner/facts.ts';
import type { Site } from './technician/actions.ts';
import type { MeterFault } from './types.ts';

/** One of the two meters. Digit, noise and lag: inH2O or share of the amplitude, s. */
export interface Meter {
  hz: number;
  digit: number;
  noise: number;
  lagS: number;
  /** The clock of the meter against that of the computer, as a share, and the scatter of arrival, s. */
  clock: number;
  jitterS: number;
}

export interface Instruments {
  manometer: Meter;
  signal: Meter;
  pressureUnit: PressureUnit;
  signalUnit: SignalUnit;
  /** Signal units per unit of the curve's share. */
  amplitude: number;
  /** Channels wired beside the two meters. */
  fan: boolean;
  ignition: boolean;
  valve: boolean;
}

/** A visit as it was, before any meter read it: inH2O, shares of the amplitude, s since the recording began. */
export interface Simulated {
  facts: BurnerFacts;
  instruments: Instruments;
  trace: Trace;
  /** Steps of the trace. */
  n: number;
  trialS: number;
  attempts: Site['attempts'];
  notes: Site['notes'];
  airConfirmed: Site['airConfirmed'];
  faults: MeterFault[];
  /** Signal that is asked for and the highest steady one inside the tested pressures, as shares, dark included. */
  required: number;
  plateau: number;
  /** Where that is. */
  plateauAt: number;
  /** Lowest and highest pressure at which the flame burned with gas on. */
  tested: [number, number];
  /** Minimum signal, where one is entered. */
  minimum?: number;
}

export const timeOf = (i: number): number => i * stepS;
export const indexOf = (t: number): number => Math.max(0, Math.round(t / stepS));

/** Runs of equal values: first step, step after the last, value. */
export function runsOf<T>(values: readonly T[]): { from: number; to: number; value: T }[] {
  const runs: { from: number; to: number; value: T }[] = [];
  values.forEach((value, i) => {
    const last = runs.at(-1);
    if (last && last.value === value) last.to = i + 1;
    else runs.push({ from: i, to: i + 1, value });
  });
  return runs;
}
