import {
  createMotionFilter,
  hasTurned,
  isUnsettled,
  longestSettlingS,
  motionWord,
  type RegulatorState,
  runsIn,
} from './regulator.ts';
import { longestGap, smoothMotion } from './regulator-course.ts';
import { stepS, type GasState } from '../chain/states.ts';

/** Follows the regulator step by step. */
export interface RegulatorFilter {
  /** One step of `stepS`; `pressure` in inH2O, undefined without a reading. */
  step(pressure: number | undefined, gas: GasState, noise: number): void;
  /** What it does now, and what it did `lagSteps` ago in the light of what came since. */
  state(): RegulatorState;
  lagged(): RegulatorState;
}

/** A turn is called over when the pressure has rested for so long, seconds: a new grip takes less. */
const holdS = 0.6;

/** Makes a filter of the regulator whose answers are at most `lagSteps` late. */
export function createRegulatorFilter(lagSteps: number): RegulatorFilter {
  const filter = createMotionFilter();
  /** Readings, the first of them `lagSteps` old or the last before. */
  let history: { steps: number; row: Float64Array; pressure: number; age: number }[] = [];
  let flows = false;
  let knowsOpening = false;
  let settles = false;
  let flowsForS = 0;
  let held: { word: RegulatorState; forS: number } = { word: 'at-rest', forS: Infinity };
  let late: RegulatorState = 'unknown';
  let noiseNow = 0;

  /** What the hand did `lagSteps` ago: in the interval that ended with the first reading since. */
  const smoothed = () => {
    const rows = history.map(({ steps, row }) => ({ steps, row: row.slice() }));
    smoothMotion(rows);
    return motionWord(rows[0]!.row);
  };

  /** Pressures before `history`, newest last, for as long again. */
  let earlier: { pressure: number; age: number }[] = [];
  /** Whether the pressure only runs in: it moves far less than it did just before. */
  const stopped = (): boolean => {
    const [before, then, now] = [earlier[0], history[0]!, history.at(-1)!];
    if (!before || now === then) return false;
    const came = Math.abs(then.pressure - before.pressure) / (before.age - then.age);
    const comes = Math.abs(now.pressure - then.pressure) / (then.age - now.age);
    return came * lagSteps > 4 * noiseNow && runsIn(came, comes);
  };
  /** Where the pressure stood when the hand was last at rest, inH2O. */
  let rested: number | undefined;
  const moved = (): RegulatorState => {
    const word = smoothed();
    const { pressure } = history[0]!;
    if (word === 'at-rest') {
      rested = pressure;
      return word;
    }
    if (stopped()) return 'at-rest';
    rested ??= pressure;
    return held.forS < holdS || hasTurned(rested, history.at(-1)!.pressure, noiseNow) ? word : 'at-rest';
  };

  const lateWord = (): RegulatorState => {
    const word = moved();
    if (settles) {
      const isOff = isUnsettled(history[0]!.pressure, history.at(-1)!.pressure, noiseNow, 0.5);
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
        history = [];
        flowsForS = 0;
        late = 'unknown';
        rested = undefined;
        earlier = [];
        return;
      }
      if (flowsForS === 0) {
        settles = knowsOpening;
        knowsOpening = false;
        held = { word: 'at-rest', forS: Infinity };
      }
      flowsForS += stepS;
      for (const each of history) each.age += 1;
      if (pressure !== undefined) {
        const steps = Math.min(longestGap, history.at(-1)?.age ?? 1);
        filter.step(pressure, steps, noise);
        history.push({ steps, row: filter.probabilities.slice(), pressure, age: 0 });
      }
      for (const each of earlier) each.age += 1;
      while (history.length > 1 && history[0]!.age > lagSteps) earlier.push(history.shift()!);
      while (earlier[0] && earlier[0].age > 2 * lagSteps) earlier.shift();
      late = history.length > 0 && flowsForS > lagSteps * stepS ? lateWord() : settles ? 'settling' : 'at-rest';
    },
    state: () => (!flows || history.length === 0 ? 'unknown' : settles ? 'settling' : motionWord(history.at(-1)!.row)),
    lagged: () => late,
  };
}
