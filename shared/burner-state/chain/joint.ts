import { exp, log } from '../../numerics/elementary.ts';
import type { Transitions } from '../../numerics/hidden-markov.ts';
import { addPartStates, createPart, type JointNow, predictPart, scalePart, takeWeighed, weigh } from './joint-part.ts';
import { lags } from './lags.ts';
import type { GasDensities } from './pressure-likelihood.ts';
import type { SignalDensities } from './signal-step.ts';
import { hiddenStates } from './states.ts';
import type { Thresholds } from './thresholds.ts';

/** Gas is shut, or a flame burns. */
const isSettled = hiddenStates.map(({ gas, flame }) => gas === 'shut' || flame === 'burning' || flame === 'unsteady');
/**
 * A lag less probable than this is idle: how probable it is goes on being followed, and its states are taken to be as probable as they
 * are on the whole. Mostly two or three of eight are not, which is most of the speed.
 */
const idleLag = 1e-4;
/** Seconds over which what a signal differs by from one of the first order stays the same: readings closer together say it twice. */
const correlatedS = 0.4;
/** A threshold this improbable is given up: no reading brings it back. */
const givenUp = 1e-5;

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
  /** All numbers of the first threshold; those of an idle lag are 0. */
  first(): JointNow;
}

/** @param idleBelow  a lag less probable than this is idle; 0: none ever is, for comparison */
export function createJoint(thresholds: Thresholds, lagShares: Float64Array, idleBelow = idleLag): Joint {
  const weights = thresholds.weights.slice();
  const parts = Array.from(weights, (weight, h) => {
    const isDoubted = thresholds.values[h]! < (thresholds.believedFrom ?? -Infinity);
    return createPart(weight, lagShares, (i) => !isDoubted || isSettled[i]!);
  });
  const totals = new Float64Array(weights.length);
  const before = new Float64Array(lags);
  const factors = new Float64Array(lags);

  const lagsNow = (into: Float64Array) => {
    into.fill(0);
    parts.forEach(({ shares }, h) => {
      if (weights[h] !== 0) for (let k = 0; k < lags; k += 1) into[k]! += shares[k]!;
    });
    return into;
  };

  /** Multiplies what is known of each lag by its factor. */
  const scaleLags = (byLag: Float64Array) => {
    parts.forEach((part, h) => {
      if (weights[h] !== 0) weights[h] = scalePart(part, byLag);
    });
  };

  /** Lets the last reading, `sinceS` seconds after the one before, speak for a lag only as far as it is independent of that one. */
  const temperLags = (sinceS: number) => {
    const share = Math.min(1, sinceS / correlatedS);
    if (share === 1) return;
    const after = lagsNow(factors);
    let total = 0;
    for (let k = 0; k < lags; k += 1) {
      const tempered = after[k]! > 0 ? before[k]! * exp(share * log(after[k]! / before[k]!)) : 0;
      factors[k] = tempered > 0 ? tempered / after[k]! : 0;
      total += tempered;
    }
    for (let k = 0; k < lags; k += 1) factors[k]! /= total;
    scaleLags(factors);
  };

  return {
    weights,
    predict(transitions) {
      parts.forEach((part, h) => {
        if (weights[h] !== 0) predictPart(part, weights[h]!, transitions, idleBelow * weights[h]!);
      });
    },
    update(ofGas, ofSignal, signalSinceS) {
      if (!ofGas && !ofSignal) return;
      if (ofSignal) lagsNow(before);
      // A first look at the sum, so that readings that no state allows leave everything as it was.
      let total = 0;
      parts.forEach((part, h) => {
        if (weights[h] === 0) return;
        totals[h] = weigh(part, ofGas?.[h], ofSignal);
        total += totals[h];
      });
      if (!(total > 0)) return;
      parts.forEach((part, h) => {
        if (weights[h] === 0) return;
        const share = totals[h]! / total;
        weights[h] = share < givenUp ? 0 : share;
        takeWeighed(part, weights[h] === 0 ? 0 : 1 / total);
      });
      if (ofSignal) temperLags(signalSinceS);
    },
    updateLags(byLag) {
      const now = lagsNow(before);
      let total = 0;
      for (let k = 0; k < lags; k += 1) total += now[k]! * byLag[k]!;
      for (let k = 0; k < lags; k += 1) factors[k] = byLag[k]! / total;
      scaleLags(factors);
    },
    updateThresholds(likelihood) {
      const byThreshold = thresholds.values.map(likelihood);
      const total = byThreshold.reduce((sum, factor, h) => sum + factor * weights[h]!, 0);
      if (!(total > 0)) return;
      parts.forEach((part, h) => {
        const factor = byThreshold[h]! / total;
        factors.fill(factor);
        scalePart(part, factors);
        weights[h]! *= factor;
      });
    },
    states(into) {
      into.fill(0);
      parts.forEach((part, h) => {
        if (weights[h] !== 0) addPartStates(part, into);
      });
      return into;
    },
    lags: lagsNow,
    first: () => parts[0]!,
  };
}
