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
  yield* wait(site, seconds);
  if (confirmed) site.airConfirmed.push([from, site.burner.t]);
}

/** Whether the meter has shown no flame for a while. */
function createWatch({ burner }: Site, noticesS: number) {
  let darkS = 0;
  return () => {
    darkS = burner.flame || burner.signal > 0.12 ? 0 : darkS + stepS;
    return darkS > noticesS || burner.tripped;
  };
}

/**
 * Turns the regulator until the gauge shows `target`; 'lost' as soon as somebody who notices a dark signal after
 * `noticesS` stops turning. Speed in inH2O/s.
 */
export function* turnTo(site: Site, target: number, noticesS = Infinity): Doing<'there' | 'lost'> {
  const { burner, between, random, turning } = site;
  const lost = createWatch(site, noticesS);
  const way = Math.sign(target - burner.hands.screw) || 1;
  const style =
    turning.style === 'mixed'
      ? (['smooth', 'jerks', 'stairs'] as const)[Math.floor(3 * random.uniform())]!
      : turning.style;
  function* move(to: number, speed: number): Doing<boolean> {
    const start = burner.hands.screw;
    const steps = Math.max(1, Math.round(Math.abs(to - start) / speed / stepS));
    for (let i = 1; i <= steps; i += 1) {
      burner.hands.screw = start + ((to - start) * i) / steps;
      yield;
      if (lost()) return true;
    }
    return false;
  }
  function* rest(seconds: number): Doing<boolean> {
    for (let i = 0; i < seconds / stepS; i += 1) {
      yield;
      if (lost()) return true;
    }
    return false;
  }
  const aim = target + way * turning.overshoot;
  while ((aim - burner.hands.screw) * way > 1e-9) {
    const left = Math.abs(aim - burner.hands.screw);
    const part =
      style === 'smooth' ? between(0.4, 1.2) : style === 'jerks' ? turning.speed * between(0.8, 2) : between(0.06, 0.3);
    const speed = style === 'smooth' ? turning.speed * between(0.7, 1.3) : between(0.2, 0.6);
    const to = burner.hands.screw + way * Math.min(left, part);
    if (yield* move(to, speed)) return 'lost';
    const pause = style === 'smooth' ? 0 : style === 'jerks' ? between(0.3, 1.2) : between(2.5, 7);
    if (yield* rest(pause)) return 'lost';
  }
  if (turning.overshoot > 0) {
    if (yield* rest(between(0.5, 2))) return 'lost';
    if (yield* move(target, turning.speed)) return 'lost';
  }
  return (yield* rest(between(2, 5))) ? 'lost' : 'there';
}

/** Turns the screw with the gas shut, by guess: nothing shows. */
export function* presetScrew(site: Site, target: number): Doing {
  const start = site.burner.hands.screw;
  const steps = Math.round(site.between(3, 8) / stepS);
  for (let i = 1; i <= steps; i += 1) {
    site.burner.hands.screw = start + ((target - start) * i) / steps;
    yield;
  }
}
