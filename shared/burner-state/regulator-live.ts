import { predictStates, updateStates } from '../numerics/hidden-markov.ts';
import { regulatorLikelihood, type RegulatorState, regulatorTransitions, settlingS } from './regulator.ts';
import { stepS, type GasState } from './states.ts';

/** Follows the regulator step by step. */
export interface RegulatorFilter {
  /** One step of `stepS`; `pressure` in inH2O, undefined without a reading. */
  step(pressure: number | undefined, gas: GasState, noise: number): void;
  state(): RegulatorState;
}

const words: readonly RegulatorState[] = ['at-rest', 'turning-in', 'turning-out'];

/** Makes a filter of the regulator: forward only, since what a hand does now cannot wait. */
export function createRegulatorFilter(): RegulatorFilter {
  const states = Float64Array.of(0.8, 0.1, 0.1);
  const next = new Float64Array(3);
  let before: number | undefined;
  let sinceS = 0;
  let flowsForS = Infinity;
  let flows = false;
  return {
    step(pressure, gas, noise) {
      flows = gas === 'flowing';
      if (gas !== 'flowing') {
        if (gas !== 'unknown') flowsForS = 0;
        before = undefined;
        states.set([0.8, 0.1, 0.1]);
        return;
      }
      flowsForS += stepS;
      sinceS += stepS;
      predictStates(states, regulatorTransitions, next);
      states.set(next);
      if (pressure === undefined) return;
      if (before !== undefined && flowsForS >= settlingS)
        updateStates(states, regulatorLikelihood(pressure - before, sinceS, noise));
      before = pressure;
      sinceS = 0;
    },
    state() {
      if (!flows) return 'unknown';
      if (flowsForS < settlingS) return 'settling';
      return words[states.indexOf(Math.max(...states))]!;
    },
  };
}
