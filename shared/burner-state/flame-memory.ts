import type { FlameState } from './chain/states.ts';

/** What one step of the chain says of the flame. */
export interface FlameStep {
  /** Gas is shut for good. */
  isShut: boolean;
  /** `unknown` where the readings cannot be told apart, or must not be believed yet. */
  flame: FlameState | 'unknown';
  /** Last reading of the flame signal, the signal that proves a flame, and the standard deviation of its noise, all in its unit. */
  signal: number;
  provingSignal: number;
  noise: number;
}

/** Whether a flame was proved since gas was last shut. */
export interface FlameMemory {
  /** One more step of the chain. Step by step, so that a caller who was held up for seconds misses no flame. */
  step(now: FlameStep): void;
  burned(): boolean;
}

/** Steps for which gas must be shut for good before a flame is forgotten: a pilot turned down fast looks shut for some tenths of a second. */
const stepsOfShut = 10;
/** Steps for which a flame must be proved before it counts as one that burned: noise peaks for one. */
const stepsOfProof = 3;
/**
 * A signal that has built up for as many steps and clears the proving level by so many times its noise is no peak: a pilot that flashes up
 * and is gone within half a second stands above the level for one reading.
 */
const clearOfNoise = 3;

/** Makes one. */
export function createFlameMemory(): FlameMemory {
  let hasBurned = false;
  let shutSteps = 0;
  let litSteps = 0;
  let provedSteps = 0;
  return {
    step({ isShut, flame, signal, provingSignal, noise }) {
      const burns = flame === 'burning' || flame === 'unsteady';
      const buildsUp = flame === 'lighting';
      shutSteps = isShut ? shutSteps + 1 : 0;
      litSteps = !isShut && (burns || buildsUp) ? litSteps + 1 : 0;
      provedSteps = !isShut && (burns || (buildsUp && signal >= provingSignal)) ? provedSteps + 1 : 0;
      const isClear = provedSteps > 0 && litSteps >= stepsOfProof && signal >= provingSignal + clearOfNoise * noise;
      if (shutSteps >= stepsOfShut) hasBurned = false;
      else hasBurned ||= provedSteps >= stepsOfProof || isClear;
    },
    burned: () => hasBurned,
  };
}
