import { exp, log } from '../../numerics/elementary.ts';
import { predictStates, type Transitions } from '../../numerics/hidden-markov.ts';
import { type GasDensities, litGas, lostGas, moreAir, risingGas, shutUnderSignal } from './pressure-likelihood.ts';
import { lags } from './lags.ts';
import { type SignalDensities, signalPatterns } from './signal-step.ts';
import { gasStates, hiddenStates, initialStates, isMoreAir, stepS } from './states.ts';
import type { Thresholds } from './thresholds.ts';

const size = hiddenStates.length;
/** Numbers for one threshold: each hidden state with each lag, lag by lag. */
export const jointSize = lags * size;
const gasOf = Uint8Array.from(hiddenStates, (state) => {
  const { gas, flame } = state;
  if (isMoreAir(state)) return moreAir;
  if (state.pattern === 'without-gas') return shutUnderSignal;
  if (gas === 'opening' && flame === 'lighting') return risingGas;
  if (gas !== 'flowing' || flame === 'dark' || flame === 'lighting') return gasStates.indexOf(gas);
  return flame === 'lost' ? lostGas : litGas;
});
/** Gas is shut, or a flame burns. */
const isSettled = hiddenStates.map(({ gas, flame }) => gas === 'shut' || flame === 'burning' || flame === 'unsteady');
/** Where the densities of each state's pattern begin. */
const signalAt = Uint8Array.from(hiddenStates, ({ pattern }) => signalPatterns.indexOf(pattern) * lags);

/** A lag changes (meter exchanged, damping switched) about once in a day, so that none is ruled out for good. */
export const lagChange = 1e-5 * stepS;
/** A lag no more probable than that lives on what changes into it; how the state moves meanwhile is nothing beside that. */
export const idleLag = 2 * lagChange;
/** Seconds over which what a signal differs by from one of the first order stays the same: readings closer together say it twice. */
const correlatedS = 0.4;
/** A threshold this improbable is given up: no reading brings it back. */
const givenUp = 1e-7;

/**
 * Joint probabilities of the hidden state, which changes, and of what stays: the threshold of shut gas and the detector's lag.
 * Source: forward algorithm, Rabiner 1989, Proc. IEEE 77, 257.
 */
export interface Joint {
  /** Probability of each threshold; 0 once it is given up. */
  readonly weights: Float64Array;
  /** Goes on by one step, before its readings. */
  predict(transitions: Transitions): void;
  /** Bayes' rule with a step's readings; `ofGas` for each threshold. A reading that no state allows says nothing. */
  update(
    ofGas: readonly (GasDensities | undefined)[] | undefined,
    ofSignal: SignalDensities | undefined,
    signalSinceS: number,
  ): void;
  /** Bayes' rule for the lag alone: how well each of them explains what was seen. */
  updateLags(likelihood: Float64Array): void;
  /** Bayes' rule for the threshold alone; where it allows none, it says nothing. */
  updateThresholds(likelihood: (threshold: number) => number): void;
  /** Probability of each hidden state, and of each lag; written to `into`. */
  states(into: Float64Array): Float64Array;
  lags(into: Float64Array): Float64Array;
  /** All numbers of the first threshold. */
  first(): Float64Array;
}

export function createJoint(thresholds: Thresholds, lagShares: Float64Array): Joint {
  const weights = thresholds.weights.slice();
  const all = Array.from(weights, (weight, h) => {
    const now = new Float64Array(jointSize);
    const isDoubted = thresholds.values[h]! < (thresholds.believedFrom ?? -Infinity);
    for (let n = 0; n < jointSize; n += 1)
      now[n] =
        isDoubted && !isSettled[n % size] ? 0 : weight * lagShares[Math.floor(n / size)]! * initialStates[n % size]!;
    const rows = Array.from({ length: lags }, (_, k) => now.subarray(k * size, (k + 1) * size));
    return { now, rows, weighed: new Float64Array(jointSize) };
  });
  const row = new Float64Array(size);
  const mean = new Float64Array(size);
  const totals = new Float64Array(weights.length);
  const before = new Float64Array(lags);
  const after = new Float64Array(lags);

  const lagsNow = (into: Float64Array) => {
    into.fill(0);
    all.forEach(({ now }, h) => {
      if (weights[h] === 0) return;
      for (let k = 0, n = 0; k < lags; k += 1) {
        let share = into[k]!;
        for (const end = n + size; n < end; n += 1) share += now[n]!;
        into[k] = share;
      }
    });
    return into;
  };

  /** Lets the last reading, `sinceS` seconds after the one before, speak for a lag only as far as it is independent of that one. */
  const temperLags = (sinceS: number) => {
    const share = Math.min(1, sinceS / correlatedS);
    if (share === 1) return;
    lagsNow(after);
    let total = 0;
    for (let k = 0; k < lags; k += 1) {
      const tempered = after[k]! > 0 ? before[k]! * exp(share * log(after[k]! / before[k]!)) : 0;
      after[k] = tempered > 0 ? tempered / after[k]! : 0;
      total += tempered;
    }
    all.forEach(({ now }, h) => {
      if (weights[h] === 0) return;
      let sum = 0;
      for (let k = 0, n = 0; k < lags; k += 1) {
        const factor = after[k]! / total;
        for (const end = n + size; n < end; n += 1) {
          const tempered = now[n]! * factor;
          now[n] = tempered;
          sum += tempered;
        }
      }
      weights[h] = sum;
    });
  };

  return {
    weights,
    predict(transitions) {
      all.forEach(({ now, rows }, h) => {
        if (weights[h] === 0) return;
        mean.fill(0);
        for (let k = 0; k < lags; k += 1) {
          const own = rows[k]!;
          let share = 0;
          for (let i = 0; i < size; i += 1) share += own[i]!;
          if (share < idleLag * weights[h]!) continue;
          predictStates(own, transitions, row);
          for (let i = 0; i < size; i += 1) {
            own[i] = row[i]!;
            mean[i]! += row[i]! / lags;
          }
        }
        for (let k = 0, n = 0; k < lags; k += 1)
          for (let i = 0; i < size; i += 1, n += 1) now[n] = (1 - lagChange) * now[n]! + lagChange * mean[i]!;
      });
    },
    update(ofGas, ofSignal, signalSinceS) {
      if (!ofGas && !ofSignal) return;
      if (ofSignal) lagsNow(before);
      // A first look at the sum, so that readings that no state allows leave everything as it was.
      let total = 0;
      all.forEach(({ now, weighed }, h) => {
        if (weights[h] === 0) return;
        totals[h] = weigh(now, ofGas?.[h], ofSignal, weighed);
        total += totals[h];
      });
      if (!(total > 0)) return;
      all.forEach(({ now, weighed }, h) => {
        if (weights[h] === 0) return;
        const share = totals[h]! / total;
        weights[h] = share < givenUp ? 0 : share;
        if (weights[h] === 0) now.fill(0);
        else for (let n = 0; n < jointSize; n += 1) now[n] = weighed[n]! / total;
      });
      if (ofSignal) temperLags(signalSinceS);
    },
    updateLags(byLag) {
      let total = 0;
      for (const { now } of all) for (let n = 0; n < jointSize; n += 1) total += now[n]! * byLag[Math.floor(n / size)]!;
      all.forEach(({ now }, h) => {
        let share = 0;
        for (let n = 0; n < jointSize; n += 1) {
          now[n]! *= byLag[Math.floor(n / size)]! / total;
          share += now[n]!;
        }
        weights[h] = share;
      });
    },
    updateThresholds(likelihood) {
      const factors = thresholds.values.map(likelihood);
      const total = factors.reduce((sum, factor, h) => sum + factor * weights[h]!, 0);
      if (!(total > 0)) return;
      all.forEach(({ now }, h) => {
        for (let n = 0; n < jointSize; n += 1) now[n]! *= factors[h]! / total;
        weights[h]! *= factors[h]! / total;
      });
    },
    states(into) {
      into.fill(0);
      all.forEach(({ now }, h) => {
        if (weights[h] === 0) return;
        for (let i = 0; i < size; i += 1) {
          let sum = into[i]!;
          for (let n = i; n < jointSize; n += size) sum += now[n]!;
          into[i] = sum;
        }
      });
      return into;
    },
    lags: lagsNow,
    first: () => all[0]!.now,
  };
}

/** Products of the probabilities in `now` and the likelihoods of both readings, and their sum; what was not read says nothing. */
function weigh(
  now: Float64Array,
  ofGas: GasDensities | undefined,
  ofSignal: SignalDensities | undefined,
  into: Float64Array,
): number {
  let sum = 0;
  for (let k = 0, n = 0; k < lags; k += 1)
    for (let i = 0; i < size; i += 1, n += 1) {
      const gas = ofGas ? ofGas[gasOf[i]!]! : 1;
      const weighed = now[n]! * (ofSignal ? gas * ofSignal[signalAt[i]! + k]! : gas);
      into[n] = weighed;
      sum += weighed;
    }
  return sum;
}
