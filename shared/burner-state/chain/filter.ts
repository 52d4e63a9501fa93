import { exp } from '../../numerics/elementary.ts';
import type { Transitions } from '../../numerics/hidden-markov.ts';
import { createJoint } from './joint.ts';
import { followPressure, followShut, followSignal, type Levels, pressureUncertainty } from './levels.ts';
import { type GasDensities, pressureLikelihood } from './pressure-likelihood.ts';
import { type SignalDensities, signalLikelihood } from './signal-likelihood.ts';
import { createRiseWatch } from './rise-lag.ts';
import { burnerTransitions, hiddenStates, pulseRate, stateNumber, stepS } from './states.ts';
import type { Thresholds } from './thresholds.ts';

/** What both meters showed in one step of `stepS` seconds: the mean of its readings; undefined without one. inH2O, signal's unit. */
export interface Bin {
  pressure?: number;
  signal?: number;
}

/** The forward filter: it goes on step after step and learns the levels of both meters meanwhile. */
export interface Filter {
  readonly levels: Levels;
  /** The transitions as they are now: how often pulses come is learned. */
  transitions(): Transitions;
  /** Goes on by one step. */
  step(bin: Bin): void;
  /** Probability of each hidden state now, given everything so far. */
  probabilities(into?: Float64Array): Float64Array;
  /** Joint probabilities of hidden state and lag, of the first threshold. */
  joint(): Float64Array;
  /** Probability of each threshold now. */
  thresholdWeights(): Float64Array;
}

const size = hiddenStates.length;
const darkStates = hiddenStates.flatMap(({ pattern, flame }, i) =>
  pattern === 'fallen' && flame !== 'burning' ? [i] : [],
);
const shutStates = hiddenStates.flatMap(({ gas }, i) => (gas === 'shut' ? [i] : []));
const steady = stateNumber.get('burning')!;
const following = stateNumber.get('following')!;
const faint = stateNumber.get('faint')!;
const flickering = stateNumber.get('unsteady')!;
const pulseOver = stateNumber.get('pulse-over')!;
/** Seconds of the pressure's past that a slow signal still follows. */
const followsS = 3;
/** So long after the hand rests the signal may still run out: some lags. */
const runsOutS = 6;
/** Seconds over which the signal's rate is averaged: a few readings, less than a lag. */
const rateS = 0.4;
/** A flame signal is settled when it has not moved much for so long, seconds. */
const settledS = 2;
/** Burning is looked at anew for the rate of pulses after so many steps. */
const stepsBetween = 50;

/** Makes the filter. It changes `levels` as it learns them. */
export function createFilter(levels: Levels, thresholds: Thresholds): Filter {
  const joint = createJoint(thresholds, levels.lagShares);
  const now = new Float64Array(size);
  let pressure: { value: number; sinceS: number } | undefined;
  let signal: { value: number; sinceS: number; change: number; intervalS: number; rate: number } | undefined;
  const rise = createRiseWatch();
  const recent: { value: number; agoS: number }[] = []; // pressures of the last `runsOutS` seconds
  let transitions = burnerTransitions(pulseRate(levels.pulses, levels.burningS));
  let burningSteps = 0;
  let inPulse = false;
  let darkForS = 0;

  const ofSignal = (value: number): SignalDensities => {
    return signalLikelihood(
      {
        value,
        before: signal?.value ?? value,
        sinceS: signal?.sinceS ?? stepS,
        changeBefore: signal?.change ?? 0,
        beforeS: signal?.intervalS ?? stepS,
        rate: signal?.rate ?? 0,
        pressureRate: rangeOf(recent, followsS) / followsS,
        pressureMoves: rangeOf(recent, runsOutS) > 2 * pressureUncertainty(levels),
      },
      levels,
    );
  };

  const ofGas = (value: number): (GasDensities | undefined)[] => {
    const step = {
      value,
      before: pressure?.value ?? value,
      sinceS: pressure?.sinceS ?? stepS,
      noise: levels.pressureNoise,
      shut: levels.shutPressure,
    };
    return thresholds.values.map((threshold, h) =>
      joint.weights[h] === 0 ? undefined : pressureLikelihood(step, threshold),
    );
  };

  /** A flame burns and its shutter is open. */
  const burns = () => now[steady]! + now[following]! + now[faint]! + now[flickering]!;

  const learnPulses = () => {
    if (!inPulse && now[pulseOver]! > 0.5) {
      inPulse = true;
      levels.pulses += 1;
    } else if (inPulse && burns() > 0.8) inPulse = false;
    if (burns() <= 0.9) return;
    levels.burningS += stepS;
    burningSteps += 1;
    if (burningSteps % stepsBetween === 0) transitions = burnerTransitions(pulseRate(levels.pulses, levels.burningS));
  };

  const learnPressure = (value: number) => {
    const [second, first] = [recent.at(-2), recent.at(-1)];
    // Equally far apart within one step.
    if (second && first && Math.abs(second.agoS - 2 * first.agoS) < 1.5 * stepS)
      followPressure(levels, value - 2 * first.value + second.value);
    followShut(levels, value, sumOf(now, shutStates));
    pressure = { value, sinceS: 0 };
    recent.push({ value, agoS: 0 });
  };

  const learnSignal = (value: number) => {
    const dark = sumOf(now, darkStates);
    if (signal)
      followSignal(levels, {
        value,
        before: signal.value,
        sinceS: signal.sinceS,
        secondDifference:
          Math.abs(signal.sinceS - signal.intervalS) < 1.5 * stepS ? value - signal.value - signal.change : undefined,
        dark: darkForS > settledS || !levels.darkKnown ? dark : 0,
        steady: burns(),
      });
    const sinceS = signal?.sinceS ?? stepS;
    const byLag = rise.reading(value - levels.dark, sinceS, dark, burns(), levels.noise);
    if (byLag) joint.updateLags(byLag);
    joint.lags(levels.lagShares);
    const change = signal ? value - signal.value : 0;
    const intervalS = signal?.sinceS ?? stepS;
    const rate = signal?.rate ?? 0;
    signal = {
      value,
      sinceS: 0,
      change,
      intervalS,
      rate: rate + (1 - exp(-intervalS / rateS)) * (change / intervalS - rate),
    };
  };

  return {
    levels,
    step(bin) {
      if (pressure) pressure.sinceS += stepS;
      if (signal) signal.sinceS += stepS;
      for (const each of recent) each.agoS += stepS;
      while (recent[0] && recent[0].agoS > runsOutS) recent.shift();
      joint.predict(transitions);
      joint.update(
        bin.pressure === undefined ? undefined : ofGas(bin.pressure),
        bin.signal === undefined ? undefined : ofSignal(bin.signal),
        signal?.sinceS ?? stepS,
      );
      joint.states(now);
      darkForS = sumOf(now, darkStates) > 0.9 ? darkForS + stepS : 0;
      if (bin.pressure !== undefined) learnPressure(bin.pressure);
      if (bin.signal !== undefined) learnSignal(bin.signal);
      learnPulses();
    },
    transitions: () => transitions,
    probabilities: (into = new Float64Array(size)) => joint.states(into),
    joint: () => joint.first(),
    thresholdWeights: () => joint.weights.slice(),
  };
}

const sumOf = (probabilities: Float64Array, states: readonly number[]): number => {
  let sum = 0;
  for (const i of states) sum += probabilities[i]!;
  return sum;
};

/** By how much the pressure moved in the last `seconds`, inH2O. */
function rangeOf(recent: readonly { value: number; agoS: number }[], seconds: number): number {
  let low = Infinity;
  let high = -Infinity;
  for (const { value, agoS } of recent) {
    if (agoS > seconds) continue;
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  return high > low ? high - low : 0;
}
