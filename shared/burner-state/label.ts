import type { FlameState, GasState } from './states.ts';
import { hiddenStates } from './states.ts';
import type { RegulatorState } from './regulator.ts';

/** What is said of one moment, and how probable it is. */
export interface Moment {
  gas: GasState;
  flame: FlameState;
  regulator: RegulatorState;
  /** The lower of the probabilities of `gas` and `flame`. */
  probability: number;
}

/** Less probable than this and a state is called unknown: two out of three would be a guess. */
export const leastProbability = 0.7;

/** Which gas and which flame are most probable; `unknown` where none is probable enough. */
export function mostProbable(probabilities: ArrayLike<number>): Pick<Moment, 'gas' | 'flame' | 'probability'> {
  const gas = new Map<GasState, number>();
  const flame = new Map<FlameState, number>();
  hiddenStates.forEach((state, i) => {
    gas.set(state.gas, (gas.get(state.gas) ?? 0) + probabilities[i]!);
    flame.set(state.flame, (flame.get(state.flame) ?? 0) + probabilities[i]!);
  });
  const best = <S>(of: Map<S, number>): [S, number] => [...of].reduce((a, b) => (b[1] > a[1] ? b : a));
  const [[gasWord, gasP], [flameWord, flameP]] = [best(gas), best(flame)];
  return {
    gas: gasP >= leastProbability ? gasWord : 'unknown',
    flame: flameP >= leastProbability ? flameWord : 'unknown',
    probability: Math.min(gasP, flameP),
  };
}

/** Total probability of the hidden states for which `is` holds. */
export const probabilityOf = (
  probabilities: ArrayLike<number>,
  is: (state: (typeof hiddenStates)[number]) => boolean,
): number => hiddenStates.reduce((sum, state, i) => (is(state) ? sum + probabilities[i]! : sum), 0);
