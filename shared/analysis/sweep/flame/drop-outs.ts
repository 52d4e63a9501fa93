import { exp } from '../../../numerics/elementary.ts';
import { type InitialEstimates, shortestLagS } from '../series/initial-estimates.ts';
import { pressureAt, type PressureGrid } from '../series/pressure-grid.ts';
import type { Series } from '../series/series.ts';
import { type Excursion, findFalls, lagMarginShare } from './falls.ts';

/** A fall of the signal amid good pressures that the pressure did not make; seconds. */
export interface DropOut extends Excursion {
  /** From the last reading before the fall until the signal has settled again: what is read then is no steady signal. */
  fromS: number;
  settledS: number;
}

/** More than this in one sweep are an unsteady flame, and what is left out would be most of it. */
const mostDropOuts = 20;
/** As many good readings must lie both below and above the pressures of the fall. */
const minGood = 3;
/**
 * A detector begins to fall at most half a second after the flame (dead time, common practice), and the fall may have begun half a second
 * before it was seen: what put the flame out, if it was the pressure, was passed since then.
 */
const beforeS = 1;
/** After so many lags above what is required again a signal is within half a percent of its steady level. */
const settledLags = 3;
/**
 * A flame that is out leaves the signal to fall by the detector's lag, at most 3 s after a dead time of half a second (common practice), and by
 * all but a tenth: what stays above that for longer is a flame that burns lower.
 */
const [slowestLagS, deadS, slackShare] = [3, 0.5, 0.1];

/**
 * Finds drop-outs: runs of readings below what is required that begin and end with good ones, where the signal is good at lower and at higher
 * pressures too, and was good there at another time, so that the pressure did not make it fall.
 *
 * @param signal    readings while gas flows, in time order
 * @param required  required signal, in its unit
 * @param noise     standard deviation of its noise
 */
export function findDropOuts(
  grid: PressureGrid,
  signal: Series,
  { lagS, plateau, dark }: Pick<InitialEstimates, 'lagS' | 'plateau' | 'dark'>,
  required: number,
  noise: number,
): DropOut[] {
  const { time, value } = signal;
  const found = findFalls(signal, required, noise).flatMap(({ from, to, least }) => {
    const [fromS, atS, backS] = [time[from - 1]!, time[from]!, time[to]!];
    const leastS = time[value.indexOf(least, from)]!;
    const highest = dark + (plateau - dark) * (slackShare + exp(-(leastS - atS - deadS) / slowestLagS));
    if (!(least < highest)) return [];
    const dropOut: DropOut = {
      fromS,
      settledS: backS + settledLags * Math.max(shortestLagS, lagS),
      atS,
      seconds: backS - atS,
      pressure: pressureAt(grid, fromS),
      least,
    };
    return [{ dropOut, range: passed(grid, fromS - beforeS, atS), course: courseOf(grid, fromS, backS) }];
  });
  if (found.length === 0 || found.length > mostDropOuts) return [];
  const isOut = isDuring(found.map(({ dropOut }) => dropOut));
  // The first estimate of the lag may be seconds too long: what counts is a signal that is good there with it and without it.
  const good = Array.from(time).flatMap((t, i): [number, number][] => {
    if (value[i]! < required || isOut(t)) return [];
    const [then, now] = [pressureAt(grid, t - lagS), pressureAt(grid, t)];
    return [[Math.min(then, now), Math.max(then, now)]];
  });
  const [lowest, highest] = passed(grid, time[0]! - lagS, time.at(-1)! - lagS);
  const margin = lagMarginShare * (highest - lowest);
  return found
    .filter(
      ({ range, course }) =>
        !wentAndCame(course, margin) &&
        isGoodElsewhen(course, good, margin) &&
        good.filter(([, most]) => most < range[0] - margin).length >= minGood &&
        good.filter(([least]) => least > range[1] + margin).length >= minGood,
    )
    .map(({ dropOut }) => dropOut);
}

/** Pressures while the signal was low: where it fell, where it came back, and the farthest from where it fell. */
interface Course {
  lost: number;
  back: number;
  farthest: number;
  range: [number, number];
}

function courseOf(grid: PressureGrid, lostS: number, backS: number): Course {
  const [lost, back] = [pressureAt(grid, lostS), pressureAt(grid, backS)];
  const [low, high] = passed(grid, lostS, backS);
  return { lost, back, farthest: high - lost > lost - low ? high : low, range: [low, high] };
}

/** Turned away and back again: it may be the pressure that took the flame and gave it back, as past an end of the window. */
const wentAndCame = ({ lost, back, farthest }: Course, margin: number): boolean =>
  Math.abs(farthest - lost) > 2 * margin && Math.abs(back - lost) < Math.abs(farthest - lost) / 2;

/**
 * Whether the signal was good at another time at the pressures that were passed, and between those of fall and return; else they may lie past
 * an end of the window, or the steady curve may dip there.
 *
 * @param good  lowest and highest pressure of each good reading, whatever its lag
 */
function isGoodElsewhen({ lost, back, range }: Course, good: readonly [number, number][], margin: number): boolean {
  const isWithin =
    good.filter(([, most]) => most <= range[0]).length >= minGood &&
    good.filter(([least]) => least >= range[1]).length >= minGood;
  if (!isWithin) return false;
  const quarter = Math.abs(back - lost) / 4;
  if (4 * quarter < margin) return true;
  const [low, high] = [Math.min(lost, back) + quarter, Math.max(lost, back) - quarter];
  return good.filter(([least, most]) => least > low && most < high).length >= minGood;
}

/** Lowest and highest pressure between two moments. */
function passed(grid: PressureGrid, fromS: number, toS: number): [number, number] {
  let [low, high] = [Infinity, -Infinity];
  for (let t = fromS; t <= toS + grid.stepS / 2; t += grid.stepS) {
    low = Math.min(low, pressureAt(grid, t));
    high = Math.max(high, pressureAt(grid, t));
  }
  return [low, high];
}

/** Tells moments of a drop-out from others. */
const isDuring = (dropOuts: readonly DropOut[]) => (t: number) =>
  dropOuts.some(({ fromS, settledS }) => t >= fromS && t <= settledS);

/** The readings that are not of a drop-out. */
export const withoutDropOuts = ({ time, value }: Series, dropOuts: readonly DropOut[]): Series => {
  const isOut = isDuring(dropOuts);
  return { time: time.filter((t) => !isOut(t)), value: value.filter((_, i) => !isOut(time[i]!)) };
};
