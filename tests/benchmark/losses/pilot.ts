/**
 * A pilot that loses its flame, and the hand at its regulator. Pressures in inH2O, times in s. It shares no code with the analysis but
 * units and random numbers.
 */
import type { Random } from '../../../shared/numerics/random.ts';

/** Pressures at which the flame goes out and at which it comes back by itself. */
export interface BlowOff {
  lost: number;
  back: number;
}

/** Where and how often the flame goes out, and what brings it back. */
export interface FlameFacts {
  /** Lean: blows off below `lost`, comes back from `back` on. Rich: lifts off above `lost`, comes back below `back`. */
  low?: BlowOff;
  high?: BlowOff;
  /** What relights a flame that blew or lifted off. */
  relight: 'itself' | 'spark' | 'valve';
  /** Blown out by a draft, not before these moments, between these pressures, for so many seconds. */
  drafts: { atS: number; seconds: number }[];
  draftsIn: [number, number];
  /** Below `from` it drops out `perS` times a second at a depth of `width`, each time for a moment. */
  dropOuts?: { from: number; width: number; perS: number; seconds: [number, number] };
}

/** One loss of the flame as it happened, gas on. */
export interface TrueLoss {
  atS: number;
  pressure: number;
  why: 'low' | 'high' | 'draft' | 'drop-out';
  backS: number;
  backAt: number;
  by: 'itself' | 'spark' | 'gas' | 'never';
  /** Gas was shut then, with the flame still out. */
  shutS: number;
}

/** What happened, step by step. */
export interface Course {
  pressure: number[];
  flame: boolean[];
  gas: boolean[];
  losses: TrueLoss[];
}

/** Step of the simulation, seconds. */
export const stepS = 0.02;

/** The hand: from `start` to each of `legs`, back to `safe` where the flame must be relit. */
export interface Hand {
  start: number;
  legs: number[];
  safe: number;
  /** Mean pressure of one turn. */
  turn: number;
  fanOnly: number;
}

/**
 * Sweeps by hand: short turns of uneven width, waits, now and then a little back. A flame that does not come back by itself is relit
 * some seconds later at `safe`, by a spark with gas left on or after the valve was shut, and the sweep goes on with the next leg.
 */
export function sweepByHand(facts: FlameFacts, hand: Hand, random: Random): Course {
  const between = (a: number, b: number) => a + (b - a) * random.uniform();
  const course: Course = { pressure: [], flame: [], gas: [], losses: [] };
  const { low, high, dropOuts, relight } = facts;
  const drafts = [...facts.drafts];
  let [screw, pressure, t] = [hand.start, hand.start, 0];
  let [flame, gas, backS] = [true, true, Infinity];
  const lose = (why: TrueLoss['why'], seconds: number) => {
    flame = false;
    backS = t + seconds;
    course.losses.push({ atS: t, pressure, why, backS: Infinity, backAt: Number.NaN, by: 'never', shutS: Infinity });
  };
  const light = (by: TrueLoss['by']) => {
    flame = true;
    backS = Infinity;
    Object.assign(course.losses.at(-1)!, { backS: t, backAt: pressure, by });
  };
  const burnsAt = (p: number) => p >= (low?.back ?? -Infinity) && p <= (high?.back ?? Infinity);
  const goesOut = (p: number) => {
    const depth = dropOuts ? Math.max(0, dropOuts.from - p) / dropOuts.width : 0;
    const [draft] = drafts;
    if (low && p < low.lost) lose('low', Infinity);
    else if (high && p > high.lost) lose('high', Infinity);
    else if (draft && t >= draft.atS && p > facts.draftsIn[0] && p < facts.draftsIn[1])
      lose('draft', drafts.shift()!.seconds);
    else if (dropOuts && random.uniform() < stepS * dropOuts.perS * depth)
      lose('drop-out', between(...dropOuts.seconds));
  };
  const wait = (seconds: number, to = screw, spark = false) => {
    const [from, n] = [screw, Math.max(1, Math.round(seconds / stepS))];
    for (let i = 1; i <= n; i += 1) {
      t += stepS;
      screw = from + ((to - from) * i) / n;
      // The gas line fills within a tenth of a second.
      pressure += ((gas ? screw : hand.fanOnly) - pressure) * (1 - Math.exp(-stepS / 0.1));
      const isBlownOff = backS === Infinity;
      if (flame) goesOut(pressure);
      else if (gas && spark) light(course.losses.at(-1)!.shutS < t ? 'gas' : 'spark');
      else if (gas && (isBlownOff ? relight === 'itself' && burnsAt(pressure) : t >= backS)) light('itself');
      course.pressure.push(pressure);
      course.flame.push(flame);
      course.gas.push(gas);
    }
  };
  const relightAtSafe = () => {
    wait(between(1, 4));
    if (relight === 'valve') {
      gas = false;
      course.losses.at(-1)!.shutS = t;
      wait(between(1, 3), hand.safe);
      wait(between(8, 20));
      gas = true;
      wait(between(0.8, 1.5));
    } else {
      wait(between(1.5, 4), hand.safe);
      wait(between(2, 4));
    }
    wait(between(1, 3), hand.safe, true);
    wait(between(5, 8));
  };
  const goTo = (target: number) => {
    const way = Math.sign(target - screw);
    for (let at = screw; (target - at) * way > 1e-9;) {
      at += way * hand.turn * (random.uniform() < 0.06 ? -between(0.2, 0.6) : between(0.4, 1.7));
      if ((at - target) * way > 0) at = target;
      wait(between(0.15, 0.6), at);
      wait(random.uniform() < 0.9 ? between(0.4, 3.2) : between(4, 9));
      if (!flame && backS === Infinity && relight !== 'itself') return relightAtSafe();
    }
    wait(between(3, 5));
  };
  wait(between(6, 10));
  for (const leg of hand.legs) goTo(leg);
  wait(3);
  return course;
}
