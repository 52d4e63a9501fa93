import type { Capture } from '../../model/capture.ts';
import { fault } from '../../model/faults.ts';
import { fail, ok, type Outcome } from '../../model/outcome.ts';
import type { Reading } from '../../model/reading.ts';
import { sweepsOf, type TimeSpan, trialSpansOf } from '../../model/sweeps.ts';
import { convertPressure, convertSignal, type PressureUnit, type SignalUnit } from '../../model/units.ts';
import { withOverloads } from './meter-faults/meter-range.ts';
import type { Series } from './series/series.ts';

/** The readings of a sweep as they were recorded, each series in one unit. */
export interface Sweep {
  pressure: Series;
  signal: Series;
  /** The manometer over the whole capture, outside of the sweep as well: what a valve does shows there. The same where that is the sweep. */
  wholePressure: Series;
  /** The signal likewise. */
  wholeSignal: Series;
  /** Highest signal that the meter showed, where it reported an overload: readings there stand for that or more. */
  overloadTop?: number;
  pressureUnit: PressureUnit;
  signalUnit: SignalUnit;
  /** Readings of the whole capture with a number, by channel, and `flagged` ones of either channel without. */
  counts: { pressure: number; signal: number; flagged: number };
}

/** Fewer readings than this of either meter are refused: the curve with two shoulders has eight parameters. */
export const minPairs = 8;

/**
 * Takes the readings of the sweep out of a capture: inside the sweep marks when there are any, never inside a light-off
 * trial or while the pilot valve is shut. All pressures in the unit of the first, all signals in the unit of the first.
 *
 * Fails with `no-pressure`, `no-signal`, `too-few-pairs`.
 */
export function collectSweep(capture: Capture): Outcome<Sweep> {
  const counts = { pressure: 0, signal: 0, flagged: 0 };
  const inSweep = sweepTest(capture);
  const pressures: Reading[] = [];
  const wholePressures: Reading[] = [];
  const signals: Reading[] = [];
  const wholeSignals: Reading[] = [];
  const overloads: number[] = [];
  for (const reading of capture.readings) {
    const list = reading.role === 'pilot_pressure' ? pressures : reading.role === 'flame_signal' ? signals : undefined;
    if (!list) continue;
    if (Number.isNaN(reading.value)) {
      counts.flagged += 1;
      if (list === signals && isOverload(reading) && inSweep(reading.elapsedS)) overloads.push(reading.elapsedS);
      continue;
    }
    counts[list === pressures ? 'pressure' : 'signal'] += 1;
    if (!Number.isFinite(reading.elapsedS)) continue;
    (list === pressures ? wholePressures : wholeSignals).push(reading);
    if (inSweep(reading.elapsedS)) list.push(reading);
  }
  if (counts.pressure === 0) return fail(fault('no-pressure'));
  if (counts.signal === 0) return fail(fault('no-signal'));
  const least = Math.min(pressures.length, signals.length);
  if (least < minPairs) return fail(fault('too-few-pairs', { pairs: least, least: minPairs }));
  const pressureUnit = pressures[0]!.unit as PressureUnit;
  const signalUnit = signals[0]!.unit as SignalUnit;
  const inUnit = (reading: Reading) => convertPressure(reading.value, reading.unit as PressureUnit, pressureUnit);
  const pressure = inTimeOrder(pressures, inUnit);
  const isWhole = pressures.length === wholePressures.length;
  const wholePressure = isWhole ? pressure : inTimeOrder(wholePressures, inUnit);
  const asSignal = (reading: Reading) => convertSignal(reading.value, reading.unit as SignalUnit, signalUnit);
  const shown = inTimeOrder(signals, asSignal);
  const wholeSignal = signals.length === wholeSignals.length ? shown : inTimeOrder(wholeSignals, asSignal);
  const { signal, top } = withOverloads(
    shown,
    overloads.sort((a, b) => a - b),
  );
  return ok({
    pressure,
    signal,
    wholePressure,
    wholeSignal,
    ...(top !== undefined && { overloadTop: top }),
    pressureUnit,
    signalUnit,
    counts,
  });
}

/** Beyond the upper end of the meter's range; a minus in what it printed is the lower end. */
const isOverload = ({ flag, raw, elapsedS }: Reading): boolean =>
  flag === 'overload' && Number.isFinite(elapsedS) && !raw.includes('-');

/** Moments at which a light-off is on record, seconds: a wired spark that was on, and trials by mark or by entry. */
export const lightOffMoments = ({ readings, marks, trials }: Capture): number[] => [
  ...readings.flatMap(({ role, value, elapsedS }) => (role === 'ignition' && value > 0 ? [elapsedS] : [])),
  ...marks.flatMap(({ kind, elapsedS }) => (kind === 'trial-start' || kind === 'trial-end' ? [elapsedS] : [])),
  ...trials.flatMap(({ elapsedS }) => (elapsedS === undefined ? [] : [elapsedS])),
];

/** A test of whether a time, in seconds, belongs to the sweep; fast for rising times. */
function sweepTest(capture: Capture): (elapsedS: number) => boolean {
  const asPair = ({ fromS, toS }: TimeSpan): [number, number] => [fromS, toS];
  const all = sweepsOf(capture.marks);
  const sweeps = all.filter(({ isVoid }) => !isVoid).map(asPair);
  const trials = trialSpansOf(capture.marks).map(asPair);
  const valve = capture.readings.filter((reading) => reading.role === 'pilot_valve' && !Number.isNaN(reading.value));
  valve.sort((a, b) => a.elapsedS - b.elapsedS);
  const shut: [number, number][] = [];
  valve.forEach((reading, i) => {
    // The pressure rises within 0.1 to 1 s of the valve's opening: half a second on each side leaves out most of that.
    const next = valve[i + 1]?.elapsedS ?? reading.elapsedS;
    if (reading.value === 0) shut.push([reading.elapsedS - 0.5, next + 0.5]);
  });
  const within = (list: [number, number][]) => {
    if (list.length === 0) return () => false;
    let at = 0;
    let last = -Infinity;
    return (t: number) => {
      if (t < last) at = 0;
      last = t;
      while (at < list.length && list[at]![1] < t) at += 1;
      return at < list.length && list[at]![0] <= t;
    };
  };
  const discarded = all.filter(({ isVoid }) => isVoid).map(asPair);
  const [inSweep, inDiscarded, inTrial, whileShut] = [within(sweeps), within(discarded), within(trials), within(shut)];
  // Where no marked sweep counts, the whole capture is the sweep, but for what was discarded.
  const belongs = (t: number) => (sweeps.length === 0 ? !inDiscarded(t) : inSweep(t));
  return (t) => belongs(t) && !inTrial(t) && !whileShut(t);
}

/** Sorts by time and takes the mean of readings with the same time; leaves out what cannot be converted. */
function inTimeOrder(readings: Reading[], convert: (reading: Reading) => number | undefined): Series {
  const sorted = readings.every((reading, i) => i === 0 || readings[i - 1]!.elapsedS <= reading.elapsedS)
    ? readings
    : [...readings].sort((a, b) => a.elapsedS - b.elapsedS);
  const time = new Float64Array(sorted.length);
  const value = new Float64Array(sorted.length);
  let n = 0;
  let same = 0;
  for (const reading of sorted) {
    const converted = convert(reading);
    if (converted === undefined) continue;
    if (n > 0 && time[n - 1] === reading.elapsedS) {
      same += 1;
      value[n - 1]! += (converted - value[n - 1]!) / same;
      continue;
    }
    time[n] = reading.elapsedS;
    value[n] = converted;
    same = 1;
    n += 1;
  }
  return { time: time.slice(0, n), value: value.slice(0, n) };
}
