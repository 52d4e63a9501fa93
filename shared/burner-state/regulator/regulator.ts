import { exp } from '../../numerics/elementary.ts';
import { predictStates, type Transitions, transitionsOf } from '../../numerics/hidden-markov.ts';
import { stepS } from '../chain/states.ts';

export { type RegulatorState, regulatorStates } from '../../model/burner-words.ts';

/** How fast a hand moves the pressure, inH2O per second: from a slow sweep of minutes to a quick half turn (common practice). */
const speeds = [0.012, 0.03, 0.075, 0.19, 0.5];
/** Velocities of the pressure that are told apart, inH2O per second: at rest, turning in, turning out. */
export const velocities: readonly number[] = [0, ...speeds, ...speeds.map((speed) => -speed)];
const modes = velocities.length;

/**
 * How often the hand changes what it does, times a second: it begins to turn and stops again every few seconds, changes its speed
 * while it turns, and seldom turns back without a rest. Readings outweigh these rates within a second.
 */
const hand = { begins: 0.12, stops: 0.5, changesSpeed: 1, turnsBack: 0.05 };

/** The hand's transitions from one reading to the next, `steps` of `stepS` later; the hand changes once at most between two readings. */
export function handTransitions(steps: number): Transitions {
  const known = transitionsBySteps[steps];
  if (known) return known;
  // A quarter at most: a meter that reads every other second must not forget what was before.
  const share = (perSecond: number) => Math.min(perSecond * steps * stepS, 0.25);
  const made = transitionsOf(
    velocities.map((from, i) => {
      const row = velocities.map((to, j) => {
        if (i === j) return 0;
        if (from === 0) return share(hand.begins) / (modes - 1);
        if (to === 0) return share(hand.stops);
        return from * to > 0 ? share(hand.changesSpeed) / (speeds.length - 1) : share(hand.turnsBack) / speeds.length;
      });
      row[i] = 1 - row.reduce((sum, p) => sum + p, 0);
      return row;
    }),
  );
  transitionsBySteps[steps] = made;
  return made;
}
const transitionsBySteps: Transitions[] = [];

/** A regulator at rest lets the pressure wander by so much in a second, inH2O: supply, furnace and creep. */
const wanderPerS = 0.003;
/** A reading that no velocity explains (a gust, a lost digit) has this density, per inH2O: one must not decide. */
const floor = 0.02;

/** Follows the velocity of the pressure. */
export interface MotionFilter {
  /** Probability of each of `velocities` now; add up to 1. */
  readonly probabilities: Float64Array;
  /** Begins anew at a pressure that is not known yet. */
  reset(): void;
  /** One reading, inH2O, `steps` of `stepS` after the one before; `noise` its standard deviation. */
  step(pressure: number, steps: number, noise: number): void;
}

/**
 * Makes the filter: for each velocity a Kalman filter of the pressure's level, mixed at each reading as the hand may have changed.
 * Source: interacting multiple models, Blom and Bar-Shalom 1988, IEEE Trans. Automatic Control 33, 780.
 */
export function createMotionFilter(): MotionFilter {
  const now = new Float64Array(modes);
  const next = new Float64Array(modes);
  let level = new Float64Array(modes);
  let variance = new Float64Array(modes);
  let mixedLevel = new Float64Array(modes);
  let mixedVariance = new Float64Array(modes);
  let isKnown = false;

  const reset = () => {
    now.fill(0.1 / (modes - 1));
    now[0] = 0.9;
    isKnown = false;
  };
  reset();

  const mix = (steps: number) => {
    const transitions = handTransitions(steps);
    const { from, to, probability } = transitions;
    const sinceS = steps * stepS;
    predictStates(now, transitions, next);
    mixedLevel.fill(0);
    mixedVariance.fill(0);
    for (let k = 0; k < from.length; k += 1)
      mixedLevel[to[k]!]! += (now[from[k]!]! * probability[k]! * level[from[k]!]!) / next[to[k]!]!;
    for (let k = 0; k < from.length; k += 1) {
      // No pattern, which would make an array for each move of each reading.
      const i = from[k]!;
      const j = to[k]!;
      const share = (now[i]! * probability[k]!) / next[j]!;
      mixedVariance[j]! += share * (variance[i]! + (level[i]! - mixedLevel[j]!) ** 2);
    }
    now.set(next);
    for (let j = 0; j < modes; j += 1) {
      const move = velocities[j]! * sinceS;
      mixedLevel[j]! += move;
      // The speed lies anywhere between two of the list, and a hand is not even.
      mixedVariance[j]! += wanderPerS ** 2 * sinceS + (0.4 * move) ** 2;
    }
    [level, mixedLevel, variance, mixedVariance] = [mixedLevel, level, mixedVariance, variance];
  };

  return {
    probabilities: now,
    reset,
    step(pressure, steps, noise) {
      if (isKnown) mix(steps);
      else {
        level.fill(pressure);
        variance.fill(noise ** 2);
        isKnown = true;
        return;
      }
      let total = 0;
      for (let j = 0; j < modes; j += 1) {
        const spread = variance[j]! + noise ** 2;
        const off = pressure - level[j]!;
        const density = (0.3989422804014327 / Math.sqrt(spread)) * exp(-0.5 * Math.min(off ** 2 / spread, 1400));
        now[j]! *= density + floor;
        total += now[j]!;
        const gain = variance[j]! / spread;
        level[j]! += gain * off;
        variance[j]! *= 1 - gain;
      }
      for (let j = 0; j < modes; j += 1) now[j]! /= total;
    },
  };
}

/** The word for a row of probabilities of `velocities`. */
export function motionWord(row: ArrayLike<number>): 'at-rest' | 'turning-in' | 'turning-out' {
  let rising = 0;
  let falling = 0;
  for (let j = 0; j < speeds.length; j += 1) {
    rising += row[1 + j]!;
    falling += row[1 + speeds.length + j]!;
  }
  const rest = row[0]!;
  if (rest >= rising && rest >= falling) return 'at-rest';
  return rising > falling ? 'turning-in' : 'turning-out';
}

/** Jerks of the hand with shorter pauses than this are one turn, seconds: nobody calls a screwdriver's new grip a rest. */
export const onePauseS = 1.4;
/** Longest time in which a regulator finds its pressure after the gas opened, seconds: lock-up bleeds off through the pilot. */
export const longestSettlingS = 8;
/** Settled: so near to where the pressure will stand, as a share of it. */
const settledWithin = 0.02;

/** A regulator that hunts moves its pressure by this share to and fro, and no hand is needed for it (common practice: half a per cent each way). */
const huntsBy = 0.01;

/** Whether a pressure has moved between two moments by more than a regulator at rest lets it; inH2O. */
export const hasTurned = (from: number, to: number, noise: number): boolean =>
  Math.abs(to - from) > huntsBy * Math.max(from, to) + 2 * noise;

/**
 * Whether a pressure only runs in after a hand that has stopped: regulator and manometer follow it for some tenths of a second. Rates of
 * the pressure before and since, in any one unit.
 */
export const runsIn = (before: number, since: number): boolean => since < 0.35 * before;

/** Whether a pressure is still away from where it stands some time later; inH2O. A share of what it lacks is gone by then. */
export const isUnsettled = (pressure: number, later: number, noise: number, gone: number): boolean =>
  Math.abs(pressure - later) > gone * settledWithin * later + 2 * noise;
