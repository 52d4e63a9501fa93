import type { Random } from '../../../../shared/numerics/random.ts';
import { type BurnerFacts, type Hands, stepS } from './facts.ts';

export interface FlameState {
  readonly burns: boolean;
  /** Since the valve opened. */
  readonly hasBurned: boolean;
  /** Seconds of burning in the whole visit. */
  readonly burnedS: number;
}

/**
 * Whether a flame burns: lit by a spark inside the light-off limits, lost outside the blow-off limits after a moment, back
 * by itself (from what still glows) only well inside them, never once the gas was shut.
 */
export function createFlame({ flame: facts }: BurnerFacts, random: Random) {
  const drafts = [...facts.blownOutAt].sort((a, b) => a - b);
  let burns = false;
  let hasBurned = false;
  let burnedS = 0;
  let outsideS = 0;
  let wasOpen = false;
  let gasS = 0;
  let sparkAfterS = Infinity;
  let attempt = -1;
  const patienceS = 0.05 + 0.15 * random.uniform();
  const happens = (meanS: number) => random.uniform() < stepS / meanS;

  const step = (p: number, hands: Hands) => {
    if (hands.valve && !wasOpen) {
      attempt += 1;
      gasS = 0;
      sparkAfterS = Infinity;
      if (!burns) hasBurned = false;
    }
    wasOpen = hands.valve;
    gasS += stepS;
    if (hands.spark && sparkAfterS === Infinity) sparkAfterS = gasS;
    if (burns) {
      burnedS += stepS;
      outsideS = p < facts.lostBelow || p > facts.lostAbove ? outsideS + stepS : 0;
      const blownOut = drafts.length > 0 && burnedS >= drafts[0]!;
      if (blownOut) drafts.shift();
      if (outsideS > patienceS || blownOut) {
        burns = false;
        outsideS = 0;
      }
    } else if (hands.valve) {
      const top = sparkAfterS > 2 ? facts.lightsBelowDelayed : facts.lightsBelow;
      const bySpark =
        hands.spark && p > facts.lightsAbove && p < top && !facts.failsAt.includes(attempt) && happens(facts.lightsIn);
      const byItself = facts.returns && hasBurned && p > facts.returnsAbove && p < facts.returnsBelow && happens(0.4);
      if (bySpark || byItself) {
        burns = true;
        hasBurned = true;
      }
    }
  };

  return {
    step,
    get burns() {
      return burns;
    },
    get hasBurned() {
      return hasBurned;
    },
    get burnedS() {
      return burnedS;
    },
  };
}
