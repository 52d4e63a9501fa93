import { median, quantile } from '../../../numerics/descriptive.ts';
import { roughNoise } from '../series/meter-noise.ts';
import { type Drop, findRhythm, type PulseRhythm, type RhythmCriteria } from './pulse-rhythm.ts';
import { pulsePhases } from './pulse-tail.ts';
import { type Shade, shadeOf } from './shade.ts';
import { runsWhere, type Series, typicalStep } from '../series/series.ts';

/**
 * The rhythm of a self-checking detector, which closes a shutter at intervals: seconds from pulse to pulse and seconds of a
 * pulse.
 */
export interface SelfCheck {
  periodS: number;
  widthS: number;
  pulses: number;
}

/** A shutter closes for part of a second (common practice), and with the lag of detector and meter on top a pulse is no longer than this. */
const shutterS = 1;
const longestPulseS = 2;
/** Seconds in which a pulse that a long lag smears is over: three time constants of 2 s. */
const longestSmearedS = 6;
/** Below this share of the level around it the signal has dropped. */
const droppedShare = 0.8;
/**
 * A shutter of a fifth of a second before a lag of 2 s lowers the signal by a tenth. So small a drop shows on the plateau only, and where it
 * is more than this share and this many deviations of the noise.
 */
const shallowShare = 0.03;
const shallowDeviations = 5;
/** So long before and after a pulse the signal is at its level, seconds. */
const besideS = 1;
/** Readings further apart than this on average, seconds, show no pulses. */
const longestStepS = 60;
/** The plateau is where the signal is above this share of its highest level; above the other it is surely no shoulder, where any turn makes a drop. */
const plateauShare = 0.85;
const topShare = 0.95;
/** So shallow a rhythm is believed where at least so many pulses follow it, and no slower than detectors test themselves, seconds (common practice). */
const leastShallow = 5;
/** Of all drops this share must follow the rhythm; of shallow ones fewer, since turns of the regulator make such drops too. */
const criteria = {
  deep: { minMatched: 0.7, mostByChance: 0.01 },
  shallow: { minMatched: 0.5, mostByChance: 1e-4 },
};
const slowestShallowS = 20;

/**
 * Finds the pulses of a self-checking detector: short drops of a lit signal, nearly all of them at even intervals, and
 * few of those intervals empty. `keep` is 0 for every reading of every pulse and its tail, also of those too shallow to be seen alone;
 * `shade` is what the pulses leave of the others.
 * Undefined when there is no such rhythm.
 *
 * @param signal  flame signal over time, seconds
 */
export function findSelfCheck(
  signal: Series,
): { keep: Uint8Array; found: SelfCheck; shade: Shade | undefined } | undefined {
  const { time, value } = signal;
  if (value.length < 30) return undefined;
  const step = typicalStep(signal);
  // The level between readings that far apart would be computed for years.
  if (time.at(-1)! - time[0]! > longestStepS * value.length) return undefined;
  const top = quantile(value, 0.9);
  const level = runningQuantile(signal, 0.5);
  // Between pulses that a lag smears the signal is at its level for part of the time only.
  const upper = runningQuantile(signal, 0.75);
  const search = (
    levelAt: (t: number) => number,
    share: number,
    least: number,
    longestS: number,
    criterion: RhythmCriteria,
  ) => {
    const drops = findDrops(signal, levelAt, share, least, longestS);
    const shows = (t: number) => levelAt(t) > least && t >= time[0]! && t <= time.at(-1)!;
    // A pulse just before the first reading still darkens the readings after it.
    return findRhythm(drops, step, [time[0]! - longestPulseS, time.at(-1)!], shows, criterion);
  };
  // Only a lit flame shows its shutter: in the dark the noise itself falls by half all the time.
  const lit = 0.25 * top;
  const shallow = Math.max(shallowShare, (shallowDeviations * roughNoise(signal)) / top);
  const rhythm =
    search(level, droppedShare, lit, longestPulseS, criteria.deep) ??
    believed(search(upper, 1 - shallow, topShare * top, longestSmearedS, criteria.shallow)) ??
    believed(search(upper, 1 - shallow, plateauShare * top, longestSmearedS, criteria.shallow));
  if (!rhythm) return undefined;
  const isOnPlateau = (t: number) => upper(t) > plateauShare * top;
  const widthS = Math.max(median(Float64Array.from(rhythm.matched, (drop) => drop.widthS)), step);
  return {
    shade: shadeOf(signal, rhythm, widthS, isOnPlateau),
    keep: betweenPulses(signal, rhythm, upper, isOnPlateau, (t) => level(t) > lit),
    found: {
      periodS: rhythm.periodS,
      widthS,
      pulses: rhythm.expected.filter((t) => level(t) > lit && t >= time[0]! && t <= time.at(-1)!).length,
    },
  };
}

const believed = (rhythm: PulseRhythm | undefined): PulseRhythm | undefined =>
  rhythm && rhythm.matched.length >= leastShallow && rhythm.periodS <= slowestShallowS ? rhythm : undefined;

/** 1 for readings of no pulse: neither while the shutter is shut nor in the tail that the detector's lag draws. */
function betweenPulses(
  signal: Series,
  { expected, periodS }: PulseRhythm,
  levelAt: (t: number) => number,
  isOnPlateau: (t: number) => boolean,
  isLit: (t: number) => boolean,
): Uint8Array {
  const { time, value } = signal;
  const keep = new Uint8Array(value.length).fill(1);
  const { beforeS, afterS } = pulsePhases(signal, expected, periodS, levelAt, isOnPlateau);
  let from = 0;
  for (const pulse of expected) {
    while (from < time.length && time[from]! < pulse - beforeS) from += 1;
    if (!isLit(pulse)) continue;
    // On a shoulder, or where the flame goes, the pulse is cut without its tail: there the readings tell more than it hides.
    const untilS = isOnPlateau(pulse) && isOnPlateau(pulse + afterS) ? afterS : Math.min(afterS, shutterS);
    for (let i = from; i < time.length && time[i]! <= pulse + untilS; i += 1) keep[i] = 0;
  }
  return keep;
}

/** Running quantile of the signal over five seconds: pulses are too short to move it. Computed every half second. */
function runningQuantile({ time, value }: Series, share: number): (t: number) => number {
  const start = time[0]!;
  const levels: number[] = [];
  let [from, to] = [0, 0];
  for (let t = start; t <= time.at(-1)! + 0.5; t += 0.5) {
    while (time[from]! < t - 2.5) from += 1;
    while (to < time.length && time[to]! <= t + 2.5) to += 1;
    levels.push(to > from ? quantile(value.subarray(from, to), share) : Number.NaN);
  }
  return (t) => levels[Math.min(levels.length - 1, Math.max(0, Math.round((t - start) / 0.5)))]!;
}

/** Stretches under a share of the level around them, where that is above `least`, that are over within `longestS` seconds. */
function findDrops(
  { time, value }: Series,
  level: (t: number) => number,
  share: number,
  least: number,
  longestS: number,
): Drop[] {
  // The detector's lag smears a pulse but conserves its area: what is missing of the level, summed until the signal is back.
  const shutSeconds = (from: number, until: number) => {
    let area = 0;
    for (let i = from; i + 1 < value.length && time[i]! <= time[from]! + longestS + 1; i += 1) {
      const missing = 1 - value[i]! / level(time[i]!);
      if (i >= until && missing < 0.05) break;
      area += (Math.max(0, missing) * (time[i + 1]! - time[i - 1]!)) / 2;
    }
    return area;
  };
  const isLit = (i: number) => level(time[i]!) > least;
  const isDown = (i: number) => value[i]! < share * level(time[i]!) && isLit(i);
  // A flame that lights, or goes out with its gas, is low for as short a time: a shutter shuts amid a signal that was at its level before, and
  // is again after.
  const isAtLevel = (i: number, by: 1 | -1, at: number) => {
    const most = share * level(time[at]!);
    for (let k = i; k >= 0 && k < value.length && Math.abs(time[k]! - time[i]!) <= besideS; k += by)
      if (value[k]! >= most) return isLit(i);
    return false;
  };
  return runsWhere(value.length, isDown)
    .filter(
      ([from, until]) =>
        time[until]! - time[from]! <= longestS && isAtLevel(from - 1, -1, from) && isAtLevel(until, 1, until - 1),
    )
    .map(([from, until]) => ({ atS: time[from]!, widthS: shutSeconds(from, until) }));
}
