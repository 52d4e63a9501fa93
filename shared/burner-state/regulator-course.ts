import type { Bin } from './filter.ts';
import type { Moment } from './label.ts';
import {
  createMotionFilter,
  handTransitions,
  isUnsettled,
  longestSettlingS,
  motionWord,
  onePauseS,
  type RegulatorState,
  velocities,
} from './regulator.ts';
import { smoothCourse } from './smooth.ts';
import { stepS } from './states.ts';

const modes = velocities.length;
const steps = (seconds: number) => Math.round(seconds / stepS);
/** With hindsight the pressure has settled by this time after, seconds. */
const laterS = 3;

/** What the regulator did, step by step, with hindsight; unknown where no gas flows. `noise` of the manometer in inH2O. */
export function regulatorCourse(bins: readonly Bin[], moments: readonly Moment[], noise: number): RegulatorState[] {
  const words: RegulatorState[] = moments.map(() => 'unknown');
  for (let from = 0; from < moments.length;) {
    if (moments[from]!.gas !== 'flowing') {
      from += 1;
      continue;
    }
    let to = from;
    while (to < moments.length && moments[to]!.gas === 'flowing') to += 1;
    const flowing = courseOfFlow(bins.slice(from, to), noise, from > 0);
    flowing.forEach((word, k) => (words[from + k] = word));
    from = to;
  }
  return words;
}

/** The same for one stretch of flowing gas; `opened`: its beginning was seen. */
function courseOfFlow(bins: readonly Bin[], noise: number, opened: boolean): RegulatorState[] {
  const filter = createMotionFilter();
  const course = { size: modes, rows: new Float64Array(bins.length * modes) };
  bins.forEach(({ pressure }, t) => {
    filter.step(pressure, noise);
    course.rows.set(filter.probabilities, t * modes);
  });
  smoothCourse(course, handTransitions);
  const words: RegulatorState[] = bins.map((_, t) => motionWord(course.rows.subarray(t * modes, (t + 1) * modes)));
  joinTurns(words);
  if (opened) markSettling(words, bins, noise);
  return words;
}

/** Fills the short rests between two turns in the same direction. */
function joinTurns(words: RegulatorState[]): void {
  let lastTurn = -Infinity;
  words.forEach((word, t) => {
    if (word === 'at-rest') return;
    if (t - lastTurn > 1 && (t - lastTurn) * stepS < onePauseS && words[lastTurn] === word)
      words.fill(word, lastTurn, t);
    lastTurn = t;
  });
}

/** Calls the time after an opening settling, until the pressure first rests where it stands later. */
function markSettling(words: RegulatorState[], bins: readonly Bin[], noise: number): void {
  const end = Math.min(words.length, steps(longestSettlingS));
  for (let t = 0; t < end; t += 1) {
    const own = nextPressure(bins, t);
    const later = nextPressure(bins, Math.min(bins.length - 1, t + steps(laterS)));
    const rests = words[t] === 'at-rest' || later === undefined;
    if (own === undefined || (rests && !isUnsettled(own, later ?? own, noise, 1))) return;
    words[t] = 'settling';
  }
}

/** The first pressure from step `t` on, within a second; else the last one before it. */
function nextPressure(bins: readonly Bin[], t: number): number | undefined {
  for (let k = t; k < Math.min(bins.length, t + steps(1)); k += 1) if (bins[k]!.pressure !== undefined) return bins[k]!.pressure;
  for (let k = t; k >= 0; k -= 1) if (bins[k]!.pressure !== undefined) return bins[k]!.pressure;
  return undefined;
}
