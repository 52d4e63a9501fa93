import { predictStates, smoothStep } from '../../numerics/hidden-markov.ts';
import type { Bin } from '../chain/filter.ts';
import type { Moment } from '../chain/label.ts';
import {
  createMotionFilter,
  handTransitions,
  hasTurned,
  isUnsettled,
  longestSettlingS,
  motionWord,
  onePauseS,
  runsIn,
  type RegulatorState,
  velocities,
} from './regulator.ts';
import { stepS } from '../chain/states.ts';

/** Steps after which a gap between readings is as good as any longer one: 5 s. */
export const longestGap = 50;
const steps = (seconds: number) => Math.round(seconds / stepS);
/** With hindsight the pressure has settled by this time after, seconds. */
const laterS = 3;

/** A turn's tail is over after so long, seconds. */
const tailS = 1.5;

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
  const rows: { t: number; steps: number; row: Float64Array }[] = [];
  // Views of one array: a small one of its own for each reading takes longer to make than to fill.
  const room = new Float64Array(bins.length * velocities.length);
  bins.forEach(({ pressure }, t) => {
    if (pressure === undefined) return;
    const steps = Math.min(longestGap, t - (rows.at(-1)?.t ?? t));
    filter.step(pressure, steps, noise);
    const row = room.subarray(t * velocities.length, (t + 1) * velocities.length);
    row.set(filter.probabilities);
    rows.push({ t, steps, row });
  });
  smoothMotion(rows);
  const words: RegulatorState[] = bins.map(() => 'at-rest');
  // A velocity is that between a reading and the one before.
  let done = 0;
  for (const { t, row } of rows) {
    words.fill(motionWord(row), done, t + 1);
    done = t + 1;
  }
  trimTails(words, bins);
  joinTurns(words);
  dropHunting(words, bins, noise);
  if (opened) markSettling(words, bins, noise);
  return words;
}

/** Smooths the probabilities of successive readings in place, from the last to the first. */
export function smoothMotion(rows: readonly { steps: number; row: Float64Array }[]): void {
  const predicted = new Float64Array(velocities.length);
  const into = new Float64Array(velocities.length);
  for (let k = rows.length - 2; k >= 0; k -= 1) {
    const { row } = rows[k]!;
    const { steps, row: after } = rows[k + 1]!;
    const transitions = handTransitions(steps);
    predictStates(row, transitions, predicted);
    smoothStep(row, predicted, after, transitions, into);
    row.set(into);
  }
}

/** Ends each turn where the pressure only runs in. */
function trimTails(words: RegulatorState[], bins: readonly Bin[]): void {
  for (let from = 0; from < words.length;) {
    let to = from + 1;
    while (to < words.length && words[to] === words[from]) to += 1;
    if (words[from] !== 'at-rest') {
      const start = nextPressure(bins, Math.max(0, from - 1));
      const end = nextPressure(bins, to - 1);
      if (start !== undefined && end !== undefined)
        for (let t = Math.min(to - 1, Math.max(from + 1, to - steps(tailS))); t < to; t += 1) {
          const there = nextPressure(bins, t) ?? end;
          if (!runsIn(Math.abs(there - start) / (t + 1 - from), Math.abs(end - there) / (to - t))) continue;
          words.fill('at-rest', t, to);
          break;
        }
    }
    from = to;
  }
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

/** Calls at rest what moved the pressure by no more than hunting does. */
function dropHunting(words: RegulatorState[], bins: readonly Bin[], noise: number): void {
  for (let from = 0; from < words.length;) {
    let to = from + 1;
    while (to < words.length && words[to] === words[from]) to += 1;
    if (words[from] !== 'at-rest') {
      const before = nextPressure(bins, Math.max(0, from - 1));
      const after = nextPressure(bins, to - 1);
      if (before !== undefined && after !== undefined && !hasTurned(before, after, noise))
        words.fill('at-rest', from, to);
    }
    from = to;
  }
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
  for (let k = t; k < Math.min(bins.length, t + steps(1)); k += 1)
    if (bins[k]!.pressure !== undefined) return bins[k]!.pressure;
  for (let k = t; k >= 0; k -= 1) if (bins[k]!.pressure !== undefined) return bins[k]!.pressure;
  return undefined;
}
