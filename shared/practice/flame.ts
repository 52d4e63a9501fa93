import type { Random } from '../numerics/random.ts';
import { decay, logistic } from './response.ts';

/**
 * How a simulated pilot lights; pressures in inH2O.
 * The probability of light-off falls outside `low.at` and `high.at`; each second of gas before the spark lowers the
 * high end by `floodPerS`.
 */
export interface LightOffParameters {
  low: { at: number; width: number };
  high: { at: number; width: number };
  floodPerS: number;
}

/** Gas flowing longer than this before the spark makes it no worse, s: the draft carries the rest away. */
const floodMaxS = 10;

/** Probability that the pilot lights at `pressure` with the spark `gasFirstS` after the gas. */
export function lightOffProbability(parameters: LightOffParameters, pressure: number, gasFirstS: number): number {
  const high = parameters.high.at - parameters.floodPerS * Math.min(gasFirstS, floodMaxS);
  return (
    logistic((pressure - parameters.low.at) / parameters.low.width) *
    logistic((high - pressure) / parameters.high.width)
  );
}

export interface FlameParameters {
  lightOff: LightOffParameters;
  lossBelow: number;
}

export interface Flame {
  /** Whether it burns after `stepS` more. `pressure` is the pressure that drives the flow. */
  step(stepS: number, inputs: { pressure: number; valveOpen: boolean; spark: boolean; fan: boolean }): boolean;
  /** A gust puts it out at once. */
  blowOff(): void;
}

/** Shortest time with both spark and gas before a flame is established, s: filling the nozzle takes part of it. */
const ignitionS = 0.3;
/** How long a flame lasts once it is too small or has no gas, s. */
const extinctionS = 0.15;
/** Time constant with which the purge removes unburned gas, s; with the fan off the gas stays. */
const purgeS = 6;

/** A burning flame that goes out below a pressure or without gas, and is relit only by a spark. */
export function createFlame(parameters: FlameParameters, random: Random): Flame {
  let isBurning = true;
  let unfedS = 0;
  let ignitingS = 0;
  let unburnedS = 0;
  // One draw per attempt, compared with the probability of the moment: a pilot that does not light at one pressure
  // keeps failing there, but may light once the regulator is turned to a better one.
  let draw = random.uniform();

  const goOut = (): void => {
    isBurning = false;
    ignitingS = 0;
    unburnedS = 0;
  };
  const sustain = (stepS: number, isFed: boolean): void => {
    unfedS = isFed ? 0 : unfedS + stepS;
    if (unfedS >= extinctionS) goOut();
  };

  return {
    blowOff() {
      if (isBurning) goOut();
    },
    step(stepS, { pressure, valveOpen, spark, fan }) {
      if (isBurning) {
        sustain(stepS, valveOpen && pressure >= parameters.lossBelow);
        return isBurning;
      }
      if (!valveOpen) {
        ignitingS = 0;
        if (fan) unburnedS *= decay(stepS, purgeS);
        return false;
      }
      if (!spark) {
        ignitingS = 0;
        unburnedS += stepS;
        return false;
      }
      if (ignitingS === 0) draw = random.uniform();
      ignitingS += stepS;
      const ready = ignitingS >= ignitionS * (1 + draw);
      if (
        ready &&
        pressure >= parameters.lossBelow &&
        draw < lightOffProbability(parameters.lightOff, pressure, unburnedS)
      ) {
        isBurning = true;
        unfedS = 0;
      }
      return isBurning;
    },
  };
}
