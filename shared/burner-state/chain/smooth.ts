import { predictStates, type Transitions } from '../../numerics/hidden-markov.ts';
import { type JointNow, jointSize, lagChange } from './joint-part.ts';
import { lags } from './lags.ts';
import { hiddenStates } from './states.ts';

const size = hiddenStates.length;

/** Probabilities of hidden states and lags, step after step. */
export interface Course {
  steps: number;
  /**
   * For each lag those of the hidden states, one step after the other. One array for each lag, and nothing written where it is idle: of the
   * memory for an hour most is then never touched, and first touching it took a third of the time.
   */
  probabilities: readonly Float64Array[];
  /** Which lags are not idle: `lags` numbers for each step. */
  isActive: Uint8Array;
}

/** Room for so many steps. */
export const createCourse = (steps: number): Course => ({
  steps,
  probabilities: Array.from({ length: lags }, () => new Float64Array(steps * size)),
  isActive: new Uint8Array(steps * lags),
});

/** Keeps the filtered probabilities of a step; what was kept of it before is forgotten. */
export function keepStep(course: Course, step: number, { probabilities, isActive }: JointNow): void {
  course.isActive.set(isActive, step * lags);
  course.probabilities.forEach((ofLag, k) => {
    if (!isActive[k]) return;
    for (let i = 0, n = k * size, at = step * size; i < size; i += 1) ofLag[at + i] = probabilities[n + i]!;
  });
}

/** Adds the probability of each hidden state, whatever the lag, times a weight: `into` holds those of each step, one step after the other. */
export function addStates({ steps, probabilities, isActive }: Course, weight: number, into: Float64Array): void {
  for (let t = 0; t < steps; t += 1)
    for (let k = 0; k < lags; k += 1) {
      if (!isActive[t * lags + k]) continue;
      const ofLag = probabilities[k]!;
      for (let n = t * size, end = n + size; n < end; n += 1) into[n]! += weight * ofLag[n]!;
    }
}

/**
 * Turns filtered probabilities into smoothed ones, in place, from the last step to the first. An idle lag takes part only in what becomes
 * of it: a lag that was idle a step before comes from the states as they are on the whole.
 * Source: backward pass for finite chains, Kitagawa 1987, JASA 82, 1032 (equation 2.5), for a state of two parts that change independently.
 *
 * @param transitions  those by which each step was reached
 */
export function smoothCourse({ steps, probabilities, isActive }: Course, transitions: readonly Transitions[]): void {
  const predicted = new Float64Array(jointSize);
  const back = new Float64Array(jointSize);
  const whole = new Float64Array(size);
  const ratio = new Float64Array(size);
  const anyLag = new Float64Array(size);
  for (let t = steps - 2; t >= 0; t -= 1) {
    const now = t * size;
    const after = now + size;
    const activeNow = t * lags;
    const activeAfter = activeNow + lags;
    const moves = transitions[t + 1]!;
    whole.fill(0);
    for (let k = 0; k < lags; k += 1) {
      if (!isActive[activeNow + k]) continue;
      const at = k * size;
      predictStates(probabilities[k]!, moves, predicted, now, at);
      for (let i = 0; i < size; i += 1) whole[i]! += predicted[at + i]!;
    }
    anyLag.fill(0);
    for (let k = 0; k < lags; k += 1) {
      if (!isActive[activeAfter + k]) {
        if (isActive[activeNow + k]) back.fill(0, k * size, (k + 1) * size);
        continue;
      }
      const at = k * size;
      const ofLag = probabilities[k]!;
      if (!isActive[activeNow + k]) {
        for (let i = 0; i < size; i += 1) ratio[i] = whole[i]! > 0 ? ofLag[after + i]! / whole[i]! : 0;
        addBack(moves, ratio, 1, anyLag, 0);
        continue;
      }
      for (let i = 0; i < size; i += 1) {
        const before = (1 - lagChange) * predicted[at + i]! + (lagChange / lags) * whole[i]!;
        ratio[i] = before > 0 ? ofLag[after + i]! / before : 0;
      }
      back.fill(0, at, at + size);
      addBack(moves, ratio, 1 - lagChange, back, at);
      for (let i = 0; i < size; i += 1) anyLag[i]! += ((lagChange / (1 - lagChange)) * back[at + i]!) / lags;
    }
    let total = 0;
    for (let k = 0; k < lags; k += 1) {
      if (!isActive[activeNow + k]) continue;
      const at = k * size;
      const ofLag = probabilities[k]!;
      for (let i = 0; i < size; i += 1) {
        const smoothed = ofLag[now + i]! * (back[at + i]! + anyLag[i]!);
        back[at + i] = smoothed;
        total += smoothed;
      }
    }
    // A step whose readings no state allowed breaks the chain there: what was known up to it stays.
    if (!(total > 0)) continue;
    for (let k = 0; k < lags; k += 1) {
      if (!isActive[activeNow + k]) continue;
      const ofLag = probabilities[k]!;
      for (let i = 0, n = k * size; i < size; i += 1) ofLag[now + i] = back[n + i]! / total;
    }
  }
}

/** Adds what each state can still become, from `ratio` one step later, times a share. */
function addBack(
  { from, begins, size, probability }: Transitions,
  ratio: Float64Array,
  share: number,
  into: Float64Array,
  at: number,
): void {
  for (let i = 0; i < size; i += 1) {
    const becomes = ratio[i]!;
    if (becomes === 0) continue;
    for (let move = begins[i]!; move < begins[i + 1]!; move += 1)
      into[at + from[move]!]! += share * probability[move]! * becomes;
  }
}
