import type { Random } from '../numerics/random.ts';
import { decay, logistic } from './response.ts';

/**
 * How an invented pilot lights; pressures in inH2O.
 * Light-off falls off outside `low.at` and `high.at`; each second that gas flowed before the spark draws the high end
 * down by `floodPerS`.
 */
export interface LightOffFacts {
  low: { at: number; width: number };
  high: { at: number; width: number };
  floodPerS: number;
}

/** Gas that stood longer than this before the spark makes it no worse: the chamber draft carries the rest away. */
const floodMaxS = 10;

/** Probability that the pilot lights at `pressure` with the spark `gasFirstS` after the gas. */
export function lightOffProbability(facts: LightOffFacts, pressure: number, gasFirstS: number): number {
  const high = facts.high.at - facts.floodPerS * Math.min(gasFirstS, floodMaxS);
  return logistic((pressure - facts.low.at) / facts.low.width) * logistic((high - pressure) / facts.high.width);
}

export interface FlameFacts {
  lightOff: LightOffFacts;
  lossBelow: number;
}

export interface Flame {
  /** Whether it burns after `stepS` more. `pressure` is the pressure that drives the flow. */
  step(stepS: number, inputs: { pressure: number; valveOpen: boolean; spark: boolean; fan: boolean }): boolean;
}

/** Spark and gas meet for so long before a flame stands, s: the first part of it is filling the nozzle. */
const ignitionS = 0.3;
/** A flame that is too small or has no gas lives on for so long, s. */
const dyingS = 0.15;
/** Purging carries unburnt gas away with this time constant, s; with the fan off it stays. */
const purgeS = 6;

/** A burning flame that goes out below a pressure or without gas, and returns by spark alone. */
export function createFlame(facts: FlameFacts, random: Random): Flame {
  let burns = true;
  let dying = 0;
  let meeting = 0;
  let unburntS = 0;
  // One draw for each attempt, compared with the probability of the moment: a pilot that does not light at this
  // pressure goes on not lighting, but may do so when the pressure is turned to a better one.
  let luck = random.uniform();

  const keepBurning = (stepS: number, alive: boolean): void => {
    dying = alive ? 0 : dying + stepS;
    if (dying < dyingS) return;
    burns = false;
    meeting = 0;
    unburntS = 0;
  };

  return {
    step(stepS, { pressure, valveOpen, spark, fan }) {
      if (burns) {
        keepBurning(stepS, valveOpen && pressure >= facts.lossBelow);
        return burns;
      }
      if (!valveOpen) {
        meeting = 0;
        if (fan) unburntS *= decay(stepS, purgeS);
        return false;
      }
      if (!spark) {
        meeting = 0;
        unburntS += stepS;
        return false;
      }
      if (meeting === 0) luck = random.uniform();
      meeting += stepS;
      const ready = meeting >= ignitionS * (1 + luck);
      if (ready && pressure >= facts.lossBelow && luck < lightOffProbability(facts.lightOff, pressure, unburntS)) {
        burns = true;
        dying = 0;
      }
      return burns;
    },
  };
}
