import { predictStates, type Transitions } from '../../numerics/hidden-markov.ts';
import { lags } from './lags.ts';
import { type GasDensities, litGas, lostGas, moreAir, risingGas, shutUnderSignal } from './pressure-likelihood.ts';
import { type SignalDensities, signalPatterns } from './signal-step.ts';
import { gasStates, hiddenStates, initialStates, isMoreAir, stepS } from './states.ts';

const size = hiddenStates.length;
/** Numbers for one threshold: each hidden state with each lag, lag by lag. */
export const jointSize = lags * size;
const gasOf = Uint8Array.from(hiddenStates, (state) => {
  const { gas, flame, pattern } = state;
  if (isMoreAir(state)) return moreAir;
  if (gas === 'shut' && pattern === 'without-gas') return shutUnderSignal;
  if (gas === 'opening' && flame === 'lighting') return risingGas;
  if (gas !== 'flowing' || flame === 'dark' || flame === 'lighting') return gasStates.indexOf(gas);
  return flame === 'lost' ? lostGas : litGas;
});
/** Each state's pattern of the signal. */
const patternOf = Uint8Array.from(hiddenStates, ({ pattern }) => signalPatterns.indexOf(pattern));

/** A lag changes (meter exchanged, damping switched) about once in a day, so that none is ruled out for good. */
export const lagChange = 1e-5 * stepS;
/** Joint probabilities of hidden state and lag, lag by lag, and which lags are not idle (1 or 0). */
export interface JointNow {
  probabilities: Float64Array;
  isActive: Uint8Array;
}

/** What is known for one threshold. */
export interface JointPart extends JointNow {
  /** Probability of each lag, idle or not. */
  shares: Float64Array;
  /** The hidden states of an idle lag; adds up to 1. */
  typical: Float64Array;
  /** Room for the products of `probabilities` and `shares` with the likelihood of a reading, and for `probabilities` one step later. */
  weighed: Float64Array;
  weighedShares: Float64Array;
}

/** The part of a threshold at the first reading: its weight spread over the lags and the states that are possible. */
export function createPart(weight: number, lagShares: Float64Array, isPossible: (state: number) => boolean): JointPart {
  const probabilities = new Float64Array(jointSize);
  const shares = new Float64Array(lags);
  for (let n = 0; n < jointSize; n += 1) {
    const k = Math.floor(n / size);
    probabilities[n] = isPossible(n % size) ? weight * lagShares[k]! * initialStates[n % size]! : 0;
    shares[k]! += probabilities[n]!;
  }
  return {
    probabilities,
    isActive: new Uint8Array(lags).fill(1),
    shares,
    typical: new Float64Array(size),
    weighed: new Float64Array(jointSize),
    weighedShares: new Float64Array(lags),
  };
}

/**
 * Goes on by one step, and sees anew which lags are idle.
 *
 * @param weight     of the threshold
 * @param idleBelow  on the scale of that weight
 */
export function predictPart(
  { probabilities, isActive, shares, typical, weighed: moved }: JointPart,
  weight: number,
  transitions: Transitions,
  idleBelow: number,
): void {
  // What the last reading left may be next to nothing: then an idle lag, which alone explains it, has the states of before.
  if (changesIdle(shares, isActive, idleBelow)) takeTypical(probabilities, isActive, typical);
  for (let k = 0; k < lags; k += 1) {
    const at = k * size;
    const isIdle = shares[k]! < idleBelow;
    if (isIdle && isActive[k]) probabilities.fill(0, at, at + size);
    if (!isIdle && !isActive[k]) for (let i = 0; i < size; i += 1) probabilities[at + i] = shares[k]! * typical[i]!;
    isActive[k] = isIdle ? 0 : 1;
    if (!isIdle) predictStates(probabilities, transitions, moved, at, at);
  }
  takeTypical(moved, isActive, typical);
  const changes = (lagChange * weight) / lags;
  for (let k = 0; k < lags; k += 1) {
    shares[k] = (1 - lagChange) * shares[k]! + changes;
    if (!isActive[k]) continue;
    for (let i = 0, n = k * size; i < size; i += 1, n += 1)
      probabilities[n] = (1 - lagChange) * moved[n]! + changes * typical[i]!;
  }
}

/** Whether some lag is idle from now on, or no longer: else nobody asks for the states before this step. */
function changesIdle(shares: Float64Array, isActive: Uint8Array, idleBelow: number): boolean {
  for (let k = 0; k < lags; k += 1) if (shares[k]! < idleBelow === (isActive[k] === 1)) return true;
  return false;
}

/** Takes the states as they are on the whole; leaves `typical` where nothing is left to tell. */
function takeTypical(probabilities: Float64Array, isActive: Uint8Array, typical: Float64Array): void {
  row.fill(0);
  let total = 0;
  for (let k = 0; k < lags; k += 1) {
    if (!isActive[k]) continue;
    for (let i = 0, n = k * size; i < size; i += 1, n += 1) {
      row[i]! += probabilities[n]!;
      total += probabilities[n]!;
    }
  }
  if (total > 0) for (let i = 0; i < size; i += 1) typical[i] = row[i]! / total;
}

const row = new Float64Array(size);
const gas = new Float64Array(size);
const idlePattern = new Float64Array(signalPatterns.length);

/** Products with the likelihoods of both readings, and their sum; what was not read says nothing. */
export function weigh(
  { probabilities, isActive, shares, typical, weighed, weighedShares }: JointPart,
  ofGas: GasDensities | undefined,
  ofSignal: SignalDensities | undefined,
): number {
  idlePattern.fill(0);
  for (let i = 0; i < size; i += 1) {
    gas[i] = ofGas ? ofGas[gasOf[i]!]! : 1;
    idlePattern[patternOf[i]!]! += gas[i]! * typical[i]!;
  }
  let sum = 0;
  for (let k = 0; k < lags; k += 1) {
    let share = 0;
    if (isActive[k])
      for (let i = 0, n = k * size; i < size; i += 1, n += 1) {
        const product = ofSignal
          ? probabilities[n]! * (gas[i]! * ofSignal[patternOf[i]! * lags + k]!)
          : probabilities[n]! * gas[i]!;
        weighed[n] = product;
        share += product;
      }
    else {
      for (let p = 0; p < idlePattern.length; p += 1)
        share += ofSignal ? idlePattern[p]! * ofSignal[p * lags + k]! : idlePattern[p]!;
      share *= shares[k]!;
    }
    weighedShares[k] = share;
    sum += share;
  }
  return sum;
}

/** Takes over what `weigh` has left, times a factor. */
export function takeWeighed(
  { probabilities, isActive, shares, weighed, weighedShares }: JointPart,
  factor: number,
): void {
  for (let k = 0; k < lags; k += 1) {
    shares[k] = factor * weighedShares[k]!;
    if (isActive[k]) for (let n = k * size, end = n + size; n < end; n += 1) probabilities[n] = factor * weighed[n]!;
  }
}

/** Multiplies what is known of each lag by its factor; returns what it adds up to then. */
export function scalePart({ probabilities, isActive, shares }: JointPart, byLag: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < lags; k += 1) {
    const factor = byLag[k]!;
    shares[k]! *= factor;
    sum += shares[k]!;
    if (isActive[k]) for (let n = k * size, end = n + size; n < end; n += 1) probabilities[n]! *= factor;
  }
  return sum;
}

/** Adds the probability of each hidden state, with any lag. */
export function addPartStates({ probabilities, isActive, shares, typical }: JointPart, into: Float64Array): void {
  let idle = 0;
  for (let k = 0; k < lags; k += 1)
    if (isActive[k]) for (let i = 0, n = k * size; i < size; i += 1, n += 1) into[i]! += probabilities[n]!;
    else idle += shares[k]!;
  if (idle > 0) for (let i = 0; i < size; i += 1) into[i]! += idle * typical[i]!;
}
