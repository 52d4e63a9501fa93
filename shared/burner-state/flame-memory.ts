/** Whether a flame was proved since gas was last shut. */
export interface FlameMemory {
  /** One more step of the chain. Step by step, so that a caller who was held up for seconds misses no flame. */
  step(now: { isShut: boolean; isProved: boolean }): void;
  burned(): boolean;
}

/** Steps for which gas must be shut for good before a flame is forgotten: a pilot turned down fast looks shut for some tenths of a second. */
const stepsOfShut = 10;
/** Steps for which a flame must be proved before it counts as one that burned: noise peaks for one. */
const stepsOfProof = 3;

/** Makes one. */
export function createFlameMemory(): FlameMemory {
  let hasBurned = false;
  let shutSteps = 0;
  let provedSteps = 0;
  return {
    step({ isShut, isProved }) {
      shutSteps = isShut ? shutSteps + 1 : 0;
      provedSteps = !isShut && isProved ? provedSteps + 1 : 0;
      if (shutSteps >= stepsOfShut) hasBurned = false;
      else hasBurned ||= provedSteps >= stepsOfProof;
    },
    burned: () => hasBurned,
  };
}
