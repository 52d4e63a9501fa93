import { predictStates, type Transitions } from '../../numerics/hidden-markov.ts';
import { idleLag, jointSize, lagChange } from './joint.ts';
import { lags } from './lags.ts';
import { hiddenStates } from './states.ts';

const size = hiddenStates.length;
/** Room for the probabilities of so many steps. */
export const createCourse = (steps: number): Float64Array => new Float64Array(steps * jointSize);

/**
 * Turns filtered probabilities of states and lags, step after step, into smoothed ones, in place, from the last to the first.
 * Source: backward pass for finite chains, Kitagawa 1987, JASA 82, 1032 (equation 2.5), for a state of two parts that change independently.
 *
 * @param transitions  those by which each step was reached
 */
export function smoothCourse(course: Float64Array, transitions: readonly Transitions[]): void {
  const predicted = new Float64Array(jointSize);
  const back = new Float64Array(jointSize);
  const mean = new Float64Array(size);
  const ratio = new Float64Array(size);
  const isIdle = new Uint8Array(lags);
  for (let t = course.length / jointSize - 2; t >= 0; t -= 1) {
    const now = t * jointSize;
    const after = now + jointSize;
    const moves = transitions[t + 1]!;
    const { from, to, probability } = moves;
    mean.fill(0);
    for (let k = 0; k < lags; k += 1) {
      const at = k * size;
      isIdle[k] = Number(sumOf(course, now + at) < idleLag && sumOf(course, after + at) < idleLag);
      if (isIdle[k]) continue;
      predictStates(course, moves, predicted, now + at, at);
      for (let i = 0; i < size; i += 1) mean[i]! += predicted[at + i]! / lags;
    }
    back.fill(0);
    for (let k = 0; k < lags; k += 1) {
      if (isIdle[k]) continue;
      const at = k * size;
      for (let i = 0; i < size; i += 1) {
        const before = (1 - lagChange) * predicted[at + i]! + lagChange * mean[i]!;
        ratio[i] = before > 0 ? course[after + at + i]! / before : 0;
      }
      for (let move = 0; move < from.length; move += 1)
        back[at + from[move]!]! += probability[move]! * ratio[to[move]!]!;
    }
    mean.fill(0);
    for (let k = 0; k < lags; k += 1) for (let i = 0; i < size; i += 1) mean[i]! += back[k * size + i]! / lags;
    let total = 0;
    for (let k = 0, n = 0; k < lags; k += 1)
      for (let i = 0; i < size; i += 1, n += 1) {
        back[n] = course[now + n]! * ((1 - lagChange) * back[n]! + lagChange * mean[i]!);
        total += back[n]!;
      }
    // A step whose readings no state allowed breaks the chain there: what was known up to it stays.
    if (total > 0) for (let n = 0; n < jointSize; n += 1) course[now + n] = back[n]! / total;
  }
}

/** Probability of the lag whose states begin at this place. */
function sumOf(course: Float64Array, at: number): number {
  let sum = 0;
  for (let n = at; n < at + size; n += 1) sum += course[n]!;
  return sum;
}
