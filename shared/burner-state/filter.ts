import { predictStates, type Transitions } from '../numerics/hidden-markov.ts';
import { followPressure, followShut, followSignal, type Levels, pressureUncertainty } from './levels.ts';
import { type GasDensities, pressureLikelihood } from './pressure-likelihood.ts';
import { lags, type SignalDensities, signalLikelihood } from './signal-likelihood.ts';
import { burnerTransitions, hiddenStates, initialStates, pulseRate, stateNumber, stepS } from './states.ts';
import type { Thresholds } from './thresholds.ts';

/** What both meters showed in one step of `stepS` seconds: the mean of its readings; undefined without one. inH2O, signal's unit. */
export interface Bin {
  pressure?: number;
  signal?: number;
}

/**
 * The forward filter: probabilities of all hidden states, one step after the other, jointly with what stays the same: the threshold
 * of shut gas and the detector's lag.
 * Source: forward algorithm, Rabiner 1989, Proc. IEEE 77, 257.
 */
export interface Filter {
  readonly levels: Levels;
  /** The transitions as they are now: how often pulses come is learned. */
  transitions(): Transitions;
  /** Goes on by one step. */
  step(bin: Bin): void;
  /** Probability of each hidden state now, given everything so far. */
  probabilities(into?: Float64Array): Float64Array;
  /** The same for each lag (`lags` rows of hidden states), of the first threshold; and before the last step's readings. */
  joint(): { now: Float64Array; predicted: Float64Array };
  /** Probability of each threshold now. */
  thresholdWeights(): Float64Array;
}

const size = hiddenStates.length;
const gasOf = hiddenStates.map(({ gas }) => gas);
const patternOf = hiddenStates.map(({ pattern }) => pattern);
const darkStates = hiddenStates.flatMap(({ pattern, flame }, i) =>
  pattern === 'fallen' && flame !== 'burning' ? [i] : [],
);
const shutStates = hiddenStates.flatMap(({ gas }, i) => (gas === 'shut' ? [i] : []));
const steady = stateNumber.get('burning')!;
const following = stateNumber.get('following')!;
const pulseOver = stateNumber.get('pulse-over')!;
/** Seconds of the pressure's past that a slow signal still follows. */
const followsS = 3;
/** A flame signal is settled when it has not moved much for so long, seconds. */
const settledS = 2;
/** A lag changes (meter exchanged, damping switched) about once in a day, so that none is ruled out for good. */
export const lagChange = 1e-5 * stepS;
/** A threshold this improbable is given up: no reading brings it back. */
const givenUp = 1e-8;

/** Makes the filter. It changes `levels` as it learns them. */
export function createFilter(levels: Levels, thresholds: Thresholds): Filter {
  const count = thresholds.values.length;
  const states = thresholds.values.map((_, h) => {
    const joint = new Float64Array(lags * size);
    for (let k = 0; k < lags; k += 1)
      for (let i = 0; i < size; i += 1)
        joint[k * size + i] = thresholds.weights[h]! * levels.lagShares[k]! * initialStates[i]!;
    return joint;
  });
  const before = states.map((each) => each.slice());
  const rowsOf = (joint: Float64Array) =>
    Array.from({ length: lags }, (_, k) => joint.subarray(k * size, (k + 1) * size));
  const stateRows = states.map(rowsOf);
  const beforeRows = before.map(rowsOf);
  const weights = thresholds.weights.slice();
  const marginal = new Float64Array(size);
  const mean = new Float64Array(size);
  let pressure: { value: number; sinceS: number } | undefined;
  let signal: { value: number; sinceS: number; change: number; intervalS: number } | undefined;
  const recent: { value: number; agoS: number }[] = []; // pressures of the last `followsS` seconds
  let transitions = burnerTransitions(pulseRate(levels.pulses, levels.burningS));
  let inPulse = false;
  let darkForS = 0;

  const predict = (h: number) => {
    mean.fill(0);
    for (let k = 0; k < lags; k += 1) {
      const row = beforeRows[h]![k]!;
      predictStates(stateRows[h]![k]!, transitions, row);
      for (let i = 0; i < size; i += 1) mean[i]! += row[i]! / lags;
    }
    const joint = before[h]!;
    for (let k = 0; k < lags; k += 1)
      for (let i = 0; i < size; i += 1)
        joint[k * size + i] = (1 - lagChange) * joint[k * size + i]! + lagChange * mean[i]!;
  };

  const update = (h: number, ofGas: GasDensities | undefined, ofSignal: SignalDensities | undefined): number => {
    const [now, predicted] = [states[h]!, before[h]!];
    let total = 0;
    for (let k = 0; k < lags; k += 1)
      for (let i = 0; i < size; i += 1) {
        let p = predicted[k * size + i]!;
        if (ofGas) p *= ofGas[gasOf[i]!];
        if (ofSignal) p *= ofSignal[patternOf[i]!][k]!;
        now[k * size + i] = p;
        total += p;
      }
    return total;
  };

  const observe = (bin: Bin) => {
    const pressureRate = rateOf(recent);
    const ofSignal =
      bin.signal === undefined
        ? undefined
        : signalLikelihood(
            {
              value: bin.signal,
              before: signal?.value ?? bin.signal,
              sinceS: signal?.sinceS ?? stepS,
              changeBefore: signal?.change ?? 0,
              beforeS: signal?.intervalS ?? stepS,
              pressureRate,
              pressureMoves: pressureRate * followsS > 4 * pressureUncertainty(levels),
            },
            levels,
          );
    const totals = new Float64Array(count);
    let total = 0;
    for (let h = 0; h < count; h += 1) {
      if (weights[h] === 0) continue;
      predict(h);
      const ofGas =
        bin.pressure === undefined
          ? undefined
          : pressureLikelihood(
              {
                value: bin.pressure,
                before: pressure?.value ?? bin.pressure,
                sinceS: pressure?.sinceS ?? stepS,
                noise: levels.pressureNoise,
                shut: levels.shutPressure,
              },
              thresholds.values[h]!,
            );
      totals[h] = update(h, ofGas, ofSignal);
      total += totals[h]!;
    }
    for (let h = 0; h < count; h += 1) {
      if (weights[h] === 0) continue;
      // A reading that no state allows says nothing.
      if (!(total > 0)) states[h]!.set(before[h]!);
      const share = total > 0 ? totals[h]! / total : weights[h]!;
      weights[h] = share < givenUp ? 0 : share;
      for (let i = 0; i < lags * size; i += 1) states[h]![i]! *= weights[h] === 0 ? 0 : 1 / (total > 0 ? total : 1);
    }
  };

  const learnPulses = (now: Float64Array) => {
    const burns = now[steady]! + now[following]!;
    if (burns > 0.9) levels.burningS += stepS;
    if (!inPulse && now[pulseOver]! > 0.8) {
      inPulse = true;
      levels.pulses += 1;
    } else if (inPulse && burns > 0.8) inPulse = false;
    if (Math.round(levels.burningS / stepS) % 50 === 0 && burns > 0.9)
      transitions = burnerTransitions(pulseRate(levels.pulses, levels.burningS));
  };

  const sum = (lists: readonly Float64Array[], into: Float64Array) => {
    into.fill(0);
    for (const list of lists)
      for (let k = 0; k < lags; k += 1) for (let i = 0; i < size; i += 1) into[i]! += list[k * size + i]!;
    return into;
  };

  const learnLags = () => {
    levels.lagShares.fill(0);
    for (let h = 0; h < count; h += 1)
      if (weights[h]! > 0)
        for (let k = 0; k < lags; k += 1)
          for (let i = 0; i < size; i += 1) levels.lagShares[k]! += states[h]![k * size + i]!;
  };

  return {
    levels,
    step(bin) {
      if (pressure) pressure.sinceS += stepS;
      if (signal) signal.sinceS += stepS;
      for (const each of recent) each.agoS += stepS;
      while (recent[0] && recent[0].agoS > followsS) recent.shift();
      observe(bin);

      const now = sum(states, marginal);
      const dark = darkStates.reduce((total, i) => total + now[i]!, 0);
      darkForS = dark > 0.9 ? darkForS + stepS : 0;
      if (bin.pressure !== undefined) {
        const [second, first] = [recent.at(-2), recent.at(-1)];
        // Equally far apart within one step.
        if (second && first && Math.abs(second.agoS - 2 * first.agoS) < 1.5 * stepS)
          followPressure(levels, bin.pressure - 2 * first.value + second.value);
        followShut(
          levels,
          bin.pressure,
          shutStates.reduce((total, i) => total + now[i]!, 0),
        );
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
        learnLags();
        signal = {
          value: bin.signal,
          sinceS: 0,
          change: signal ? bin.signal - signal.value : 0,
          intervalS: signal?.sinceS ?? stepS,
        };
      }
      learnPulses(now);
    },
    transitions: () => transitions,
    probabilities: (into = new Float64Array(size)) => sum(states, into),
    joint: () => ({ now: states[0]!, predicted: before[0]! }),
    thresholdWeights: () => weights.slice(),
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
