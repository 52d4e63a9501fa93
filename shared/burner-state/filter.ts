import { exp } from '../numerics/elementary.ts';
import { predictStates, type Transitions, updateStates } from '../numerics/hidden-markov.ts';
import { followLag, followPressure, followSignal, type Levels } from './levels.ts';
import { pressureLikelihood } from './pressure-likelihood.ts';
import { type SignalDensities, signalLikelihood } from './signal-likelihood.ts';
import { burnerTransitions, hiddenStates, initialStates, pulseRate, stateNumber, stepS } from './states.ts';

/** What both meters showed in one step of `stepS` seconds: the mean of its readings; undefined without one. inH2O, signal's unit. */
export interface Bin {
  pressure?: number;
  signal?: number;
}

/**
 * Pressures below which gas is taken for shut, inH2O, and how probable each is. Several while the fan-only pressure is not known: the
 * readings decide among them.
 */
export interface Thresholds {
  values: readonly number[];
  weights: Float64Array;
}

/** Thresholds when nobody has entered a fan-only pressure: mostly below 0.5 inH2O (common practice), seldom up to 1. */
export function openThresholds(): Thresholds {
  const values = [0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.75, 0.9, 1.2];
  const raw = values.map((value, i) => exp(-((value / 0.35) ** 2) / 2) * (value - (values[i - 1] ?? 0)));
  const sum = raw.reduce((total, weight) => total + weight, 0);
  return { values, weights: Float64Array.from(raw, (weight) => weight / sum) };
}

/** The one threshold that belongs to an entered fan-only pressure: a margin of 0.06 inH2O or a tenth above it covers drift and meter. */
export const knownThreshold = (fanOnly: number): Thresholds => ({
  values: [fanOnly + Math.max(0.06, 0.1 * fanOnly)],
  weights: Float64Array.of(1),
});

/** The forward filter: probabilities of all hidden states, one step after the other. */
export interface Filter {
  readonly levels: Levels;
  readonly thresholds: Thresholds;
  /** The transitions as they are now: how often pulses come is learned. */
  transitions(): Transitions;
  /** Goes on by one step. */
  step(bin: Bin): void;
  /** Probability of each hidden state now, given everything so far. */
  probabilities(into?: Float64Array): Float64Array;
  /** The same before the last step's readings, for the smoother. */
  predicted(into?: Float64Array): Float64Array;
  /** Probability of each threshold now. */
  thresholdWeights(): Float64Array;
}

const size = hiddenStates.length;
const isDark = hiddenStates.map(({ pattern, flame }) => pattern === 'fallen' && flame !== 'burning');
const steady = stateNumber.get('burning')!;
const pulseOver = stateNumber.get('pulse-over')!;
/** Seconds of the pressure's past that a slow signal still follows. */
const followsS = 3;
/** A flame signal is settled when it has not moved much for so long, seconds. */
const settledS = 2;

/** Makes the filter. It changes `levels` as it learns them. */
export function createFilter(levels: Levels, thresholds: Thresholds): Filter {
  const count = thresholds.values.length;
  const states = Array.from({ length: count }, (_, h) => initialStates.map((p) => p * thresholds.weights[h]!));
  const before = states.map((each) => each.slice());
  const likelihood = new Float64Array(size);
  const joined = new Float64Array(count * size);
  const joinedLikelihood = new Float64Array(count * size);
  let pressure: { value: number; sinceS: number } | undefined;
  let signal: { value: number; sinceS: number } | undefined;
  const recent: { value: number; agoS: number }[] = []; // pressures of the last `followsS` seconds
  let transitions = burnerTransitions(pulseRate(levels.pulses, levels.burningS));
  let inPulse = false;
  let darkForS = 0;
  let densities: SignalDensities | undefined;

  const observe = (bin: Bin) => {
    densities =
      bin.signal === undefined
        ? undefined
        : signalLikelihood(
            {
              value: bin.signal,
              before: signal?.value ?? bin.signal,
              sinceS: signal?.sinceS ?? stepS,
              pressureRate: rateOf(recent),
            },
            levels,
          );
    thresholds.values.forEach((threshold, h) => {
      const ofPressure =
        bin.pressure === undefined
          ? undefined
          : pressureLikelihood(
              {
                value: bin.pressure,
                before: pressure?.value ?? bin.pressure,
                sinceS: pressure?.sinceS ?? stepS,
                noise: levels.pressureNoise,
              },
              threshold,
            );
      for (let i = 0; i < size; i += 1) {
        const { gas, pattern } = hiddenStates[i]!;
        joinedLikelihood[h * size + i] = (ofPressure?.[gas] ?? 1) * (densities?.[pattern] ?? 1);
        joined[h * size + i] = states[h]![i]!;
      }
    });
    updateStates(joined, joinedLikelihood);
    states.forEach((each, h) => each.set(joined.subarray(h * size, (h + 1) * size)));
  };

  const learnPulses = (now: Float64Array) => {
    if (now[steady]! > 0.9) levels.burningS += stepS;
    if (!inPulse && now[pulseOver]! > 0.8) {
      inPulse = true;
      levels.pulses += 1;
    } else if (inPulse && now[steady]! > 0.8) inPulse = false;
    if (Math.round(levels.burningS / stepS) % 50 === 0)
      transitions = burnerTransitions(pulseRate(levels.pulses, levels.burningS));
  };

  const sum = (lists: Float64Array[], into: Float64Array) => {
    into.fill(0);
    for (const list of lists) for (let i = 0; i < size; i += 1) into[i]! += list[i]!;
    return into;
  };

  return {
    levels,
    thresholds,
    step(bin) {
      states.forEach((each, h) => {
        predictStates(each, transitions, before[h]!);
        each.set(before[h]!);
      });
      if (pressure) pressure.sinceS += stepS;
      if (signal) signal.sinceS += stepS;
      for (const each of recent) each.agoS += stepS;
      while (recent[0] && recent[0].agoS > followsS) recent.shift();
      observe(bin);

      const now = sum(states, likelihood);
      const dark = now.reduce((total, p, i) => (isDark[i] ? total + p : total), 0);
      darkForS = dark > 0.9 ? darkForS + stepS : 0;
      if (bin.pressure !== undefined) {
        const [second, first] = [recent.at(-2), recent.at(-1)];
        // Equally far apart within one step.
        if (second && first && Math.abs(second.agoS - 2 * first.agoS) < 1.5 * stepS)
          followPressure(levels, bin.pressure - 2 * first.value + second.value);
        pressure = { value: bin.pressure, sinceS: 0 };
        recent.push({ value: bin.pressure, agoS: 0 });
      }
      if (bin.signal !== undefined) {
        if (signal)
          followSignal(levels, {
            value: bin.signal,
            before: signal.value,
            sinceS: signal.sinceS,
            dark: darkForS > settledS || !levels.darkKnown ? dark : 0,
            steady: now[steady]!,
          });
        const fell = signal && signal.value - levels.dark > 0.2 * levels.height;
        if (fell && densities) followLag(levels, densities.ofLag, dark);
        signal = { value: bin.signal, sinceS: 0 };
      }
      learnPulses(now);
    },
    transitions: () => transitions,
    probabilities: (into = new Float64Array(size)) => sum(states, into),
    predicted: (into = new Float64Array(size)) => sum(before, into),
    thresholdWeights: () => Float64Array.from(states, (each) => each.reduce((total, p) => total + p, 0)),
  };
}

/** Fastest movement of the pressure in the last seconds, inH2O per second: its whole range over that time. */
function rateOf(recent: readonly { value: number }[]): number {
  let low = Infinity;
  let high = -Infinity;
  for (const { value } of recent) {
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  return high > low ? (high - low) / followsS : 0;
}
