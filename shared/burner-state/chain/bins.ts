import type { Reading } from '../../model/reading.ts';
import type { Setup } from '../../model/setup.ts';
import { convertPressure, type PressureUnit } from '../../model/units.ts';
import type { Bin } from './filter.ts';
import { followDigit } from './levels.ts';
import { stepS } from './states.ts';

/** What the tracker is told beside the readings. */
export interface Known {
  /** Unit of the flame signal. */
  signalUnit: string;
  minimumSignal?: number;
  darkSignal?: number;
  /** Signal with the spark alone, as entered. */
  sparkSignal?: number;
  /** Fan-only pressure as entered, inH2O. */
  fanOnly?: number;
  /** Length of the trial for ignition, seconds. */
  trialSeconds: number;
}

/** Longest capture that is tracked, in steps: a day and some hours, which takes 2 GB of memory. */
export const mostBins = 1_000_000;

/** Time at which a bin begins, in tenths of a second counted from the capture's zero, so that live and hindsight agree. */
export const binOf = (elapsedS: number): number => Math.floor(elapsedS / stepS + 1e-9);

/** A channel's sum and count within one bin. */
export interface Mean {
  sum: number;
  count: number;
}

/** Adds a value; makes the mean when there is none yet. */
export const addTo = (mean: Mean | undefined, value: number): Mean =>
  mean ? { sum: mean.sum + value, count: mean.count + 1 } : { sum: value, count: 1 };

/** Readings of both meters in bins from `first` on, and for each bin whether a meter then gave a reading that was none. */
export interface Binned {
  first: number;
  bins: Bin[];
  /** Last digit of the manometer, inH2O: the smallest step between two of its readings; Infinity when it never moved. */
  digit: number;
}

/** Puts a capture's readings into bins of `stepS`. Flagged readings and times that are none are left out. */
export function binReadings(readings: readonly Reading[]): Binned {
  let low = Infinity;
  let high = -Infinity;
  for (const { role, elapsedS, value } of readings)
    if ((role === 'pilot_pressure' || role === 'flame_signal') && Number.isFinite(value) && Number.isFinite(elapsedS)) {
      low = Math.min(low, elapsedS);
      high = Math.max(high, elapsedS);
    }
  const first = binOf(low);
  const count = binOf(high) - first + 1;
  if (!(count > 0) || count > mostBins) return { first: 0, bins: [], digit: Infinity };
  const pressure = createMeans(count);
  const signal = createMeans(count);
  const display = { pressureDigit: Infinity };
  let before: number | undefined;
  for (const { role, elapsedS, value, unit } of readings) {
    if (!Number.isFinite(value) || !Number.isFinite(elapsedS)) continue;
    const bin = binOf(elapsedS) - first;
    if (role === 'pilot_pressure') {
      const converted = convertPressure(value, unit as PressureUnit, 'inH2O');
      pressure.add(bin, converted);
      if (before !== undefined) followDigit(display, before, converted);
      before = converted;
    } else if (role === 'flame_signal') signal.add(bin, value);
  }
  return {
    first,
    digit: display.pressureDigit,
    bins: Array.from({ length: count }, (_, i) => {
      const bin: Bin = {};
      if (pressure.has(i)) bin.pressure = pressure.mean(i);
      if (signal.has(i)) bin.signal = signal.mean(i);
      return bin;
    }),
  };
}

/** The means of one channel in all bins of a capture. */
function createMeans(bins: number) {
  const sums = new Float64Array(bins);
  const counts = new Uint32Array(bins);
  return {
    add(bin: number, value: number) {
      sums[bin]! += value;
      counts[bin]! += 1;
    },
    has: (bin: number) => counts[bin]! > 0,
    mean: (bin: number) => sums[bin]! / counts[bin]!,
  };
}

/** The fan-only pressure that was entered, inH2O; undefined where none was. */
export const enteredFanOnly = ({ fanOnlyPressure: entered }: Setup): number | undefined =>
  entered && convertPressure(entered.value, entered.unit, 'inH2O');

/** What a setup says to the tracker; `signalUnit` as the readings have it. */
export function knownFrom(setup: Setup, signalUnit: string): Known {
  const { minimumSignal, darkSignal, sparkOnlySignal, pilotTrialSeconds } = setup;
  const fanOnly = enteredFanOnly(setup);
  return {
    signalUnit,
    ...(minimumSignal?.unit === signalUnit && { minimumSignal: minimumSignal.value }),
    ...(darkSignal?.unit === signalUnit && { darkSignal: darkSignal.value }),
    ...(sparkOnlySignal?.unit === signalUnit && { sparkSignal: sparkOnlySignal.value }),
    ...(fanOnly !== undefined && { fanOnly }),
    trialSeconds: pilotTrialSeconds ?? 10,
  };
}
