import { log } from './elementary.ts';

/** The possible moves of a Markov chain in one step, in the order of the states they lead to: those to state i are `begins[i]` to before `begins[i + 1]`. */
export interface Moves {
  size: number;
  from: Uint16Array;
  to: Uint16Array;
  begins: Uint16Array;
}

/**
 * Moves as parallel lists with their probabilities: `probability[k]` is that of going from state `from[k]` to state `to[k]`. Moves that are
 * not listed do not happen; those from one state add up to 1.
 */
export interface Transitions extends Moves {
  probability: Float64Array;
}

/** Puts moves between `size` states in order; gives the moves in that order as well, for what belongs to them. */
export function orderMoves<Move extends { from: number; to: number }>(
  size: number,
  moves: readonly Move[],
): Moves & { ordered: Move[] } {
  const ordered = moves.toSorted((a, b) => a.to - b.to || a.from - b.from);
  const begins = new Uint16Array(size + 1);
  for (const { to } of ordered) for (let i = to + 1; i <= size; i += 1) begins[i]! += 1;
  return {
    size,
    from: Uint16Array.from(ordered, (move) => move.from),
    to: Uint16Array.from(ordered, (move) => move.to),
    begins,
    ordered,
  };
}

/** Transitions from a full matrix, row by row: `matrix[i][j]` from state i to state j. Zeros are left out. */
export function transitionsOf(matrix: readonly (readonly number[])[]): Transitions {
  const { ordered, ...moves } = orderMoves(
    matrix.length,
    matrix.flatMap((row, from) => row.flatMap((p, to) => (p > 0 ? [{ from, to, p }] : []))),
  );
  return { ...moves, probability: Float64Array.from(ordered, (move) => move.p) };
}

/**
 * Probabilities of the states one step later, before anything is observed; written to `into`.
 *
 * @param at, intoAt  where the states begin in each array
 */
export function predictStates(
  now: Float64Array,
  { size, from, begins, probability }: Transitions,
  into: Float64Array,
  at = 0,
  intoAt = 0,
): void {
  let k = 0;
  for (let i = 0; i < size; i += 1) {
    let sum = 0;
    for (const end = begins[i + 1]!; k < end; k += 1) sum += now[at + from[k]!]! * probability[k]!;
    into[intoAt + i] = sum;
  }
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
