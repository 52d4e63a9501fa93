import { type FlameState, flameStates, type GasState, gasStates, hiddenStates, stateNumber } from './states.ts';
import type { RegulatorState } from '../regulator/regulator.ts';

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

const gasOf = hiddenStates.map(({ gas }) => gasStates.indexOf(gas));
// Burning or unsteady is told by the scatter of the signal over seconds, not by one reading after the other.
const flameOf = hiddenStates.map(({ flame }) => flameStates.indexOf(flame === 'unsteady' ? 'burning' : flame));

// Kept from call to call: it is asked at every step.
const gas = new Float64Array(gasStates.length);
const flame = new Float64Array(flameStates.length);

function indexOfMost(values: Float64Array): number {
  let best = 0;
  for (let i = 1; i < values.length; i += 1) if (values[i]! > values[best]!) best = i;
  return best;
}

/** Which gas and which flame are most probable; `unknown` where none is probable enough. */
export function mostProbable(probabilities: ArrayLike<number>): Pick<Moment, 'gas' | 'flame' | 'probability'> {
  gas.fill(0);
  flame.fill(0);
  for (let i = 0; i < hiddenStates.length; i += 1) {
    gas[gasOf[i]!]! += probabilities[i]!;
    flame[flameOf[i]!]! += probabilities[i]!;
  }
  const [bestGas, bestFlame] = [indexOfMost(gas), indexOfMost(flame)];
  const [gasP, flameP] = [gas[bestGas]!, flame[bestFlame]!];
  return {
    gas: gasP >= leastProbability ? gasStates[bestGas]! : 'unknown',
    flame: flameP >= leastProbability ? flameStates[bestFlame]! : 'unknown',
    probability: Math.min(gasP, flameP),
  };
}

/** Total probability of the hidden states for which `is` holds. */
export const probabilityOf = (
  probabilities: ArrayLike<number>,
  is: (state: (typeof hiddenStates)[number]) => boolean,
): number => hiddenStates.reduce((sum, state, i) => (is(state) ? sum + probabilities[i]! : sum), 0);

const openStates = ['burning', 'following', 'faint', 'unsteady'].map((name) => stateNumber.get(name)!);

/** Whether the signal now shows a burning flame, as far as is known: it burns and no shutter is closed. */
export const shows = (probabilities: ArrayLike<number>): boolean =>
  openStates.reduce((sum, i) => sum + probabilities[i]!, 0) > 0.5;
