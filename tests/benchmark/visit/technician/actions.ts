import type { Random } from '../../../../shared/numerics/random.ts';
import type { Burner } from '../burner/burner.ts';
import { type BurnerFacts, stepS } from '../burner/facts.ts';

/** What somebody does at the burner, one step of the simulation at each `yield`. */
export type Doing<T = void> = Generator<undefined, T>;

export interface Attempt {
  gasS: number;
  sparkDelayS: number;
  /** As the technician would type it. */
  typed: boolean;
  withTime: boolean;
}

/** One person at one burner: what they know, how they turn, and what they note down. */
export interface Site {
  burner: Burner;
  facts: BurnerFacts;
  random: Random;
  between: (a: number, b: number) => number;
  turning: { style: 'smooth' | 'jerks' | 'stairs' | 'mixed'; speed: number; overshoot: number };
  attempts: Attempt[];
  notes: { atS: number; kind: 'sweep-start' | 'sweep-end' | 'trial-start' | 'trial-end' | 'as-found' | 'as-left' }[];
  /** From when to when somebody confirmed that the fan runs. */
  airConfirmed: [number, number][];
  /** Whether trials are typed, and with their times. */
  types: boolean;
  withTime: boolean;
  /** When the recording begins, on the clock of the burner. */
  recordedFrom: number;
}

export function* wait(_: Site, seconds: number): Doing {
  for (let i = 0; i < seconds / stepS; i += 1) yield;
}

/** Waits for something to become true; false when it did not in time. */
export function* until(_: Site, met: () => boolean, mostS: number): Doing<boolean> {
  for (let i = 0; i < mostS / stepS; i += 1) {
    if (met()) return true;
    yield;
  }
  return met();
}

/**
 * Opens the gas, sparks after `delayS` (never when undefined), waits for the flame; a trial that is over shuts the gas
 * unless `leaveOpen`. True when it lit.
 */
export function* lightOff(
  site: Site,
  {
    delayS = 0,
    leaveOpen = false,
    typed = site.types,
    withTime = site.withTime,
  }: Partial<Attempt> & {
    delayS?: number;
    leaveOpen?: boolean;
  } = {},
): Doing<boolean> {
  const { burner, facts, attempts, notes } = site;
  const { trialS, sparkForWholeTrial } = facts.control;
  const openedS = burner.t;
  attempts.push({ gasS: openedS, sparkDelayS: delayS, typed, withTime });
  notes.push({ atS: openedS - site.between(0.5, 3), kind: 'trial-start' });
  burner.hands.valve = true;
  let seenS = 0;
  let lit = false;
  while (burner.t - openedS < trialS && burner.hands.valve) {
    const sparks = burner.t - openedS >= delayS;
    if (burner.flame) seenS += stepS;
    lit ||= seenS > 0.4;
    if (lit && !sparkForWholeTrial) break;
    burner.hands.spark = sparks;
    yield;
  }
  burner.hands.spark = false;
  if (!lit && !leaveOpen) burner.hands.valve = false;
  notes.push({ atS: burner.t + site.between(0.5, 3), kind: 'trial-end' });
  return lit;
}

/** Sparks again with the gas still on, for at most so many seconds. True when it lit. */
export function* sparkAgain(site: Site, mostS: number): Doing<boolean> {
  site.burner.hands.spark = true;
  const lit = yield* until(site, () => site.burner.flame, mostS);
  yield* wait(site, 0.4);
  site.burner.hands.spark = false;
  return lit;
}

export function* shutGas({ burner }: Site): Doing {
  burner.hands.valve = false;
  yield;
}

/** The fan blows through the furnace for so many seconds; `confirmed`: the technician says so in the program. */
export function* purge(site: Site, seconds: number, confirmed: boolean): Doing {
  site.burner.hands.fan = true;
  yield* wait(site, site.between(1, 4));
  const from = site.burner.t;
  yield* moreAir(site, seconds);
  if (confirmed) site.airConfirmed.push([from, site.burner.t]);
}

/** Where the damper opens for a purge it is back at light-off when the purge is over. */
function* moreAir({ burner, facts }: Site, seconds: number): Doing {
  const { purgeTimes, damperS } = facts.fan;
  const backS = burner.t + seconds;
  burner.hands.damper = purgeTimes > 1;
  while (burner.t < backS) {
    if (burner.t > backS - damperS - 2) burner.hands.damper = false;
    yield;
  }
}
