import { predictStates, smoothStep } from '../numerics/hidden-markov.ts';
import {
  createMotionFilter,
  handTransitions,
  isUnsettled,
  longestSettlingS,
  motionWord,
  type RegulatorState,
  velocities,
} from './regulator.ts';
import { stepS, type GasState } from './states.ts';

/** Follows the regulator step by step. */
export interface RegulatorFilter {
  /** One step of `stepS`; `pressure` in inH2O, undefined without a reading. */
  step(pressure: number | undefined, gas: GasState, noise: number): void;
  /** What it does now, and what it did `lagSteps` ago in the light of what came since. */
  state(): RegulatorState;
  lagged(): RegulatorState;
}

const modes = velocities.length;
/** A turn is called over when the pressure has rested for so long, seconds: a new grip takes less. */
const holdS = 0.6;

/** Makes a filter of the regulator whose answers are at most `lagSteps` late. */
export function createRegulatorFilter(lagSteps: number): RegulatorFilter {
  const filter = createMotionFilter();
  const history: Float64Array[] = [];
  const pressures: number[] = [];
  const predicted = new Float64Array(modes);
  let flows = false;
  let knowsOpening = false;
  let settles = false;
  let flowsForS = 0;
  let held: { word: RegulatorState; forS: number } = { word: 'at-rest', forS: Infinity };
  let late: RegulatorState = 'unknown';
  let noiseNow = 0;

  const smoothed = () => {
    let after = history.at(-1)!;
    for (let k = history.length - 2; k >= 0; k -= 1) {
      const into = new Float64Array(modes);
      predictStates(history[k]!, handTransitions, predicted);
      smoothStep(history[k]!, predicted, after, handTransitions, into);
      after = into;
    }
    return after;
  };

  const lateWord = (): RegulatorState => {
    const word = motionWord(smoothed());
    if (settles) {
      const isOff = isUnsettled(pressures[0]!, pressures.at(-1)!, noiseNow, 0.5);
      settles = flowsForS < longestSettlingS && (isOff || word !== 'at-rest');
      if (settles) return 'settling';
    }
    if (word === 'at-rest') {
      held.forS += stepS;
      return held.forS < holdS ? held.word : word;
    }
    held = { word, forS: 0 };
    return word;
  };

  return {
    step(pressure, gas, noise) {
      noiseNow = noise;
      flows = gas === 'flowing';
      if (!flows) {
        // What is unknown for a moment is no new opening.
        if (gas !== 'unknown') knowsOpening = true;
        filter.reset();
        history.length = 0;
        pressures.length = 0;
        flowsForS = 0;
        late = 'unknown';
        return;
      }
      if (flowsForS === 0) {
        settles = knowsOpening;
        knowsOpening = false;
        held = { word: 'at-rest', forS: Infinity };
      }
      flowsForS += stepS;
      filter.step(pressure, noise);
      const last = pressure ?? pressures.at(-1);
      if (last === undefined) return;
      history.push(filter.probabilities.slice());
      pressures.push(last);
      if (history.length > lagSteps + 1) {
        history.shift();
        pressures.shift();
      }
      late = history.length > lagSteps ? lateWord() : settles ? 'settling' : 'at-rest';
    },
    state: () => (!flows || history.length === 0 ? 'unknown' : settles ? 'settling' : motionWord(history.at(-1)!)),
    lagged: () => late,
  };
}
