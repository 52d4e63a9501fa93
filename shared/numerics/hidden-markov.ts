import { log } from './elementary.ts';

/**
 * The possible moves of a Markov chain in one step, as parallel lists: `probability[k]` is that of going from state `from[k]`
 * to state `to[k]`. Moves that are not listed do not happen; those from one state add up to 1.
 */
export interface Transitions {
  size: number;
  from: Uint16Array;
  to: Uint16Array;
  probability: Float64Array;
}

/** Transitions from a full matrix, row by row: `matrix[i][j]` from state i to state j. Zeros are left out. */
export function transitionsOf(matrix: readonly (readonly number[])[]): Transitions {
  const moves = matrix.flatMap((row, from) => row.flatMap((p, to) => (p > 0 ? [{ from, to, p }] : [])));
  return {
    size: matrix.length,
    from: Uint16Array.from(moves, (move) => move.from),
    to: Uint16Array.from(moves, (move) => move.to),
    probability: Float64Array.from(moves, (move) => move.p),
  };
}

/**
 * Probabilities of the states one step later, before anything is observed; written to `into`.
 *
 * @param at, intoAt  where the states begin in each array
 */
export function predictStates(
  now: Float64Array,
  { size, from, to, probability }: Transitions,
  into: Float64Array,
  at = 0,
  intoAt = 0,
): void {
  into.fill(0, intoAt, intoAt + size);
  for (let k = 0; k < from.length; k += 1) into[intoAt + to[k]!]! += now[at + from[k]!]! * probability[k]!;
}

/**
 * Bayes' rule in place: `states` times `likelihood`, scaled to add up to 1.
 *
 * @returns logarithm of the observation's probability; -Infinity, and `states` left as they were, when no state allows it
 */
export function updateStates(states: Float64Array, likelihood: Float64Array): number {
  let total = 0;
  for (let i = 0; i < states.length; i += 1) total += states[i]! * likelihood[i]!;
  if (!(total > 0)) return -Infinity;
  for (let i = 0; i < states.length; i += 1) states[i] = (states[i]! * likelihood[i]!) / total;
  return log(total);
}

/**
 * One backward step of the smoother: turns the smoothed probabilities of the step after into those of this step.
 * Source: Rauch-type backward pass for finite chains, Kitagawa 1987, JASA 82, 1032 (equation 2.5); the same result as
 * forward-backward (Rabiner 1989, Proc. IEEE 77, 257).
 *
 * @param filtered   probabilities of this step given the observations up to it
 * @param predicted  those of the step after, before its observation
 * @param after      smoothed probabilities of the step after
 * @param into       smoothed probabilities of this step; may be neither of the others
 */
export function smoothStep(
  filtered: Float64Array,
  predicted: Float64Array,
  after: Float64Array,
  transitions: Transitions,
  into: Float64Array,
): void {
  const { from, to, probability } = transitions;
  into.fill(0);
  for (let k = 0; k < from.length; k += 1) {
    const j = to[k]!;
    if (predicted[j]! > 0) into[from[k]!]! += (probability[k]! * after[j]!) / predicted[j]!;
  }
  for (let i = 0; i < into.length; i += 1) into[i]! *= filtered[i]!;
}

/**
 * The single most probable course of states.
 * Source: Viterbi 1967, IEEE Trans. Inf. Theory 13, 260; Rabiner 1989, Proc. IEEE 77, 257.
 *
 * @param likelihoods  of each observation in each state
 * @returns the states, one for each observation, and the logarithm of the joint probability of that course and the observations
 */
export function viterbi(
  initial: Float64Array,
  transitions: Transitions,
  likelihoods: readonly Float64Array[],
): { path: Uint16Array; logProbability: number } {
  const { size, from, to, probability } = transitions;
  const logMove = probability.map((p) => log(p));
  let best = initial.map((p, i) => logOrNever(p) + logOrNever(likelihoods[0]![i]!));
  const came = likelihoods.map(() => new Uint16Array(size));
  for (let t = 1; t < likelihoods.length; t += 1) {
    const next = new Float64Array(size).fill(-Infinity);
    for (let k = 0; k < from.length; k += 1) {
      const reached = best[from[k]!]! + logMove[k]!;
      if (reached <= next[to[k]!]!) continue;
      next[to[k]!] = reached;
      came[t]![to[k]!] = from[k]!;
    }
    best = next.map((value, i) => value + logOrNever(likelihoods[t]![i]!));
  }
  let state = best.indexOf(Math.max(...best));
  const logProbability = best[state]!;
  const path = new Uint16Array(likelihoods.length);
  for (let t = likelihoods.length - 1; t >= 0; t -= 1) {
    path[t] = state;
    state = came[t]![state]!;
  }
  return { path, logProbability };
}

const logOrNever = (p: number): number => (p > 0 ? log(p) : -Infinity);
