import type { Capture } from '../model/capture.ts';
import type { Setup } from '../model/setup.ts';
import { isSaidGasOff } from '../model/said-gas-off.ts';
import { extent } from '../numerics/descriptive.ts';
import { binReadings, type Known, knownFrom } from './chain/bins.ts';
import { type Bin, createFilter, type Filter, withoutPressure } from './chain/filter.ts';
import { type Moment, mostProbable, shows } from './chain/label.ts';
import { followFlame, initialLevels, type Levels, pressureUncertainty, takeLiveZero } from './chain/levels.ts';
import { withTroubles } from './doubts.ts';
import { createManometerOff, offStep } from './meters/manometer-off.ts';
import { type FrozenSpans, frozenSpans, type Troubles, troublesOf } from './meters/trouble-spans.ts';
import { phasesOf, type Phase } from './phases.ts';
import { regulatorCourse } from './regulator/regulator-course.ts';
import { meanLag } from './chain/lags.ts';
import { addStates, createCourse, keepStep, smoothCourse } from './chain/smooth.ts';
import { hiddenStates, stepS } from './chain/states.ts';
import { createRunIn, isUnsteady, windowSteps } from './chain/steadiness.ts';
import { type Thresholds, thresholdsFor, toldApart } from './chain/thresholds.ts';
import { takeBackUnlit } from './trials/unlit-trials.ts';

/** A stretch of a capture in which nothing changed: its own seconds, and the state of burner and visit. */
export interface StateSpan extends Moment {
  from_s: number;
  to_s: number;
  phase: Phase;
}

/** What the burner did during a capture, told with hindsight. */
export interface Tracked {
  /** Covers the capture from its first to its last reading without a gap. */
  spans: StateSpan[];
  /** Levels of both meters as estimated in the end. Pressures in inH2O, signals in the signal's unit. */
  levels: Levels;
  fanOnly: { value: number; basis: 'entered' | 'measured' | 'estimated' } | undefined;
  frozen: FrozenSpans;
}

const size = hiddenStates.length;

/**
 * Follows a capture through the burner's states, forward and then backward, so that each moment is judged by what came after as well.
 */
export function trackCapture(capture: Capture, setup: Setup): Tracked {
  const firstSignal = capture.readings.find(({ role, value }) => role === 'flame_signal' && Number.isFinite(value));
  const signalUnit = firstSignal?.unit ?? 'V';
  const known = knownFrom(setup, signalUnit);
  const { first, bins: all, digit } = binReadings(capture.readings);
  const levels = initialLevels(signalUnit, known.minimumSignal, known.darkSignal);
  if (firstSignal) takeLiveZero(levels, signalUnit, firstSignal.value);
  if (all.length === 0) return { spans: [], levels, fanOnly: undefined, frozen: frozenSpans([], 0) };
  const troubles = troublesOf(capture.readings, first, all.length);
  const bins = all.map((bin, t) =>
    troubles[t]!.pressure || troubles[t]!.signal ? withoutFrozen(bin, troubles[t]!) : bin,
  );
  levels.pressureDigit = digit;
  const thresholds = toldApart(thresholdsFor(known), bins);

  // Once through to learn the levels and the threshold; then again with them, from the start.
  const learned = createFilter(levels, thresholds);
  const saidOff = saidOffSteps(capture, first);
  const believed = learnFrom(bins, learned, levels, known.fanOnly, saidOff);
  const weights = learned.thresholdWeights();
  const rows = new Float64Array(bins.length * size);
  const course = createCourse(bins.length);
  let said = 0;
  for (const { threshold, weight } of likeliest(thresholds, weights)) {
    const start = { ...levels, lagShares: levels.lagShares.slice(), shutPressure: undefined };
    const filter = createFilter(start, { ...thresholds, values: [threshold], weights: Float64Array.of(1) });
    const transitions = believed.map((bin, t) => {
      filter.step(bin);
      keepStep(course, t, filter.joint());
      return filter.transitions();
    });
    smoothCourse(course, transitions);
    addStates(course, weight, rows);
    said += weight;
  }
  for (let i = 0; i < rows.length; i += 1) rows[i]! /= said;

  const moments: Moment[] = bins.map((_, t) => ({
    ...mostProbable(rows.subarray(t * size, (t + 1) * size)),
    regulator: 'unknown',
  }));
  markUnsteady(bins, moments, rows, levels);
  takeBackUnlit(moments, first, capture, setup);
  for (const { flame } of moments) followFlame(levels, flame);
  const regulator = regulatorCourse(bins, moments, pressureUncertainty(levels));
  const isOff = whereOff(bins, moments, troubles, levels, known.fanOnly, saidOff);
  moments.forEach((moment, t) => {
    moment.regulator = regulator[t]!;
    const { pressure, signal } = troubles[t]!;
    Object.assign(moment, withTroubles(moment, !!pressure || isOff[t] === 1, !!signal));
  });
  const phases = phasesOf(moments, (t) => !troubles[t]!.signal, first, capture, known);
  return {
    spans: spansOf(moments, phases, first),
    levels,
    fanOnly: fanOnlyOf(known, bins, moments),
    frozen: frozenSpans(troubles, first),
  };
}

/** What the sound meters showed: what a frozen one repeats says nothing of now. */
function withoutFrozen(bin: Bin, { pressure, signal }: Troubles): Bin {
  return {
    ...(bin.pressure !== undefined && pressure !== 'frozen' && { pressure: bin.pressure }),
    ...(bin.signal !== undefined && signal !== 'frozen' && { signal: bin.signal }),
  };
}

/** The steps from which on the manometer is believed again, since the technician said that gas is off and its hose on. */
const saidOffSteps = ({ marks }: Capture, first: number): Set<number> =>
  new Set(marks.filter(isSaidGasOff).map(({ elapsedS }) => Math.max(0, Math.ceil(elapsedS / stepS) - first)));

/** Teaches the filter what the meters showed; gives the same bins without the pressures of a manometer that shows no gas over a flame. */
function learnFrom(
  bins: readonly Bin[],
  filter: Filter,
  levels: Levels,
  fanOnly: number | undefined,
  saidOff: ReadonlySet<number>,
): Bin[] {
  let off = createManometerOff();
  const states = new Float64Array(size);
  return bins.map((bin, t) => {
    if (saidOff.has(t)) off = createManometerOff();
    const believed = off.isDoubted() ? withoutPressure(bin) : bin;
    filter.step(believed);
    const { flame } = mostProbable(filter.probabilities(states));
    off.step((t + 1) * stepS, offStep(bin, levels, fanOnly ?? levels.shutPressure, flame));
    return believed;
  });
}

/** Where the manometer shows no gas while a flame burns, until it shows gas again or is believed once more: 1 for each such step. */
function whereOff(
  bins: readonly Bin[],
  moments: readonly Moment[],
  troubles: readonly Troubles[],
  levels: Levels,
  fanOnly: number | undefined,
  saidOff: ReadonlySet<number>,
): Uint8Array {
  const isOff = new Uint8Array(bins.length);
  let off = createManometerOff();
  bins.forEach((bin, t) => {
    if (saidOff.has(t)) off = createManometerOff();
    // While a manometer is silent gas may come on.
    const flame = troubles[t]!.pressure ? 'unknown' : moments[t]!.flame;
    off.step((t + 1) * stepS, offStep(bin, levels, fanOnly ?? levels.shutPressure, flame));
    const sinceS = off.sinceS();
    if (sinceS === undefined) return;
    const isKnown = t > 0 && isOff[t - 1] === 1;
    isOff.fill(1, isKnown ? t : Math.round(sinceS / stepS) - 1, t + 1);
  });
  return isOff;
}

/** Calls a burning flame unsteady where its signal scatters around that moment. */
function markUnsteady(
  bins: readonly Bin[],
  moments: readonly Moment[],
  rows: Float64Array,
  { height, lagShares }: Levels,
): void {
  const lagS = meanLag(lagShares);
  const lag = Math.round(lagS / stepS);
  const hasRunIn = createRunIn();
  const shown = { signal: new Float64Array(bins.length).fill(Number.NaN), pressure: new Float64Array(bins.length) };
  let pressure = 0;
  bins.forEach(({ signal }, t) => {
    pressure = bins[t - lag]?.pressure ?? pressure;
    shown.pressure[t] = pressure;
    if (hasRunIn(shows(rows.subarray(t * size, (t + 1) * size)), lagS) && signal !== undefined)
      shown.signal[t] = signal;
  });
  const half = windowSteps >> 1;
  moments.forEach((moment, t) => {
    if (moment.flame === 'burning' && isUnsteady(shown, t - half, t + half, height)) moment.flame = 'unsteady';
  });
}

/** The thresholds that the readings leave possible: at most three, for the smoother goes through each. */
const likeliest = ({ values }: Thresholds, weights: Float64Array): { threshold: number; weight: number }[] =>
  values
    .map((threshold, h) => ({ threshold, weight: weights[h]! }))
    .sort((a, b) => b.weight - a.weight)
    .slice(0, 3)
    .filter(({ weight }, k) => k === 0 || weight > 0.02);

/** The fan-only pressure: what was entered, else the median pressure while gas was shut for some seconds. inH2O. */
function fanOnlyOf(known: Known, bins: readonly Bin[], moments: readonly Moment[]): Tracked['fanOnly'] {
  if (known.fanOnly !== undefined) return { value: known.fanOnly, basis: 'entered' };
  const shut = Float64Array.from(
    bins.flatMap(({ pressure }, t) => (pressure !== undefined && moments[t]!.gas === 'shut' ? [pressure] : [])),
  ).sort();
  if (shut.length < 3) return undefined;
  const [low, high] = extent(shut);
  const value = shut[shut.length >> 1]!;
  return { value, basis: high - low < 0.1 ? 'measured' : 'estimated' };
}

/** Neighboring moments that say the same, as one span. */
function spansOf(moments: readonly Moment[], phases: readonly Phase[], first: number): StateSpan[] {
  const spans: StateSpan[] = [];
  moments.forEach((moment, t) => {
    const last = spans.at(-1);
    const phase = phases[t]!;
    const from = (first + t) * stepS;
    if (
      last &&
      last.gas === moment.gas &&
      last.flame === moment.flame &&
      last.regulator === moment.regulator &&
      last.phase === phase
    ) {
      const steps = Math.round((from - last.from_s) / stepS);
      last.probability += (moment.probability - last.probability) / (steps + 1);
      last.to_s = from + stepS;
    } else spans.push({ from_s: from, to_s: from + stepS, ...moment, phase });
  });
  return spans;
}
