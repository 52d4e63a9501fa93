import { median, quantileSorted } from '../../numerics/descriptive.ts';
import { type Series, typicalStep } from './series.ts';

/**
 * The rhythm of a self-checking detector, which closes a shutter at intervals: seconds from pulse to pulse and seconds of a
 * pulse.
 */
export interface SelfCheck {
  periodS: number;
  widthS: number;
  pulses: number;
}

/** A short drop of the signal: when it began, and how long the shutter was shut, seconds. */
interface Drop {
  atS: number;
  widthS: number;
}

/** A shutter closes for part of a second (common practice); this leaves room for the lag of detector and meter on top. */
const longestPulseS = 2;
/** Seconds after a pulse in which the lag still darkens the signal: three time constants of the shortest lag. */
const tailS = 1;
/** Periods that are looked for: above the pulse with its tail, and often enough in a sweep of minutes to be a rhythm. */
const [shortestPeriodS, longestPeriodS] = [1.5, 60];
/** Below these shares of the level around it the signal has dropped, and above that one it is back. */
const droppedShare = 0.8;
const backShare = 0.95;

/**
 * Finds the pulses of a self-checking detector: short drops of a lit signal, nearly all of them at even intervals, and
 * few of those intervals empty. `keep` is 0 for every reading of every pulse, also of those too shallow to be seen alone.
 * Undefined when there is no such rhythm.
 *
 * @param signal  flame signal over time, seconds
 */
export function findSelfCheck(signal: Series): { keep: Uint8Array; found: SelfCheck } | undefined {
  const { time, value } = signal;
  if (value.length < 30) return undefined;
  const step = typicalStep(signal);
  const level = runningLevel(signal);
  // Only a lit flame shows its shutter: in the dark the noise itself falls by half all the time.
  const lit = 0.25 * quantileSorted(Float64Array.from(value).sort(), 0.9);
  const drops = findDrops(signal, level, lit);
  const litAt = (t: number) => level(t) > lit && t >= time[0]! && t <= time.at(-1)!;
  // A pulse just before the first reading still darkens the readings after it.
  const rhythm = findRhythm(drops, step, [time[0]! - longestPulseS, time.at(-1)!], litAt);
  if (!rhythm) return undefined;
  const keep = new Uint8Array(value.length).fill(1);
  let from = 0;
  for (const pulse of rhythm.expected) {
    if (!(level(pulse) > lit)) continue;
    while (from < time.length && time[from]! < pulse - step - 0.1) from += 1;
    // Until the signal is nearly back, and then for the tail that the detector's lag draws.
    let untilS = pulse + longestPulseS + tailS;
    for (let i = from; i < time.length && time[i]! <= untilS; i += 1) {
      keep[i] = 0;
      if (time[i]! > pulse + step && value[i]! >= backShare * level(time[i]!))
        untilS = Math.min(untilS, time[i]! + tailS);
    }
  }
  const widthS = median(Float64Array.from(rhythm.matched, (drop) => drop.widthS));
  return {
    keep,
    found: { periodS: rhythm.periodS, widthS: Math.max(widthS, step), pulses: rhythm.expected.filter(litAt).length },
  };
}

/** Running median of the signal over five seconds: pulses are too short to move it. Computed every half second. */
function runningLevel({ time, value }: Series): (t: number) => number {
  const start = time[0]!;
  const levels: number[] = [];
  let [from, to] = [0, 0];
  for (let t = start; t <= time.at(-1)! + 0.5; t += 0.5) {
    while (time[from]! < t - 2.5) from += 1;
    while (to < time.length && time[to]! <= t + 2.5) to += 1;
    levels.push(to > from ? median(value.subarray(from, to)) : Number.NaN);
  }
  return (t) => levels[Math.min(levels.length - 1, Math.max(0, Math.round((t - start) / 0.5)))]!;
}

/** Stretches under four fifths of the level around them that are over within the longest pulse. */
function findDrops({ time, value }: Series, level: (t: number) => number, lit: number): Drop[] {
  const drops: Drop[] = [];
  // The detector's lag smears a pulse but conserves its area: what is missing of the level, summed until the signal is back.
  const shutSeconds = (from: number, until: number) => {
    let area = 0;
    for (let i = from; i + 1 < value.length && time[i]! <= time[from]! + longestPulseS + tailS; i += 1) {
      const missing = 1 - value[i]! / level(time[i]!);
      if (i >= until && missing < 0.05) break;
      area += (Math.max(0, missing) * (time[i + 1]! - time[i - 1]!)) / 2;
    }
    return area;
  };
  const isDown = (i: number) => value[i]! < droppedShare * level(time[i]!) && level(time[i]!) > lit;
  for (let i = 1; i < value.length; i += 1) {
    if (!isDown(i) || isDown(i - 1)) continue;
    let until = i;
    while (until < value.length && isDown(until)) until += 1;
    if (until < value.length && time[until]! - time[i]! <= longestPulseS)
      drops.push({ atS: time[i]!, widthS: shutSeconds(i, until) });
    i = until;
  }
  return drops;
}

/** More drops than this in one sweep are an unsteady flame, and every pair of them would be tried. */
const maxDrops = 150;
/** Of all drops this share must follow the rhythm: the others are flicker, which has none. */
const minMatched = 0.7;
/** Of the moments at which the rhythm expects a drop this share must have one: shallow pulses on a shoulder are missed. */
const minFilled = 0.6;
/** Drops that came at random would give such a rhythm less often than this. */
const mostByChance = 0.01;

/** The even rhythm that most drops follow, at least three of them: two drops have an interval, but no rhythm. */
function findRhythm(drops: Drop[], step: number, [from, to]: [number, number], litAt: (t: number) => boolean) {
  let best: { matched: Drop[]; periodS: number; expected: number[]; score: number } | undefined;
  if (drops.length < 3 || drops.length > maxDrops) return undefined;
  for (let i = 0; i < drops.length; i += 1)
    for (let j = i + 1; j < drops.length; j += 1) {
      const gap = drops[j]!.atS - drops[i]!.atS;
      if (gap < shortestPeriodS || gap > longestPeriodS) continue;
      const tolerance = Math.min(step + 0.03 * gap, 0.15 * gap);
      const beat = (drop: Drop, periodS: number) => Math.round((drop.atS - drops[i]!.atS) / periodS);
      // The period is corrected from drop to drop, so that a slight error of it does not add up.
      let periodS = gap;
      const matched = drops.filter((drop) => {
        const off = drop.atS - drops[i]!.atS - beat(drop, periodS) * periodS;
        if (Math.abs(off) > tolerance) return false;
        if (beat(drop, periodS) > 1) periodS = (drop.atS - drops[i]!.atS) / beat(drop, periodS);
        return true;
      });
      if (matched.length < 3 || matched.length < minMatched * drops.length) continue;
      const first = matched[0]!.atS;
      const expected: number[] = [];
      for (let k = Math.ceil((from - first) / periodS); first + k * periodS <= to; k += 1)
        expected.push(first + k * periodS);
      if (chanceOf(matched.length, drops.length, (2 * tolerance) / gap) > mostByChance) continue;
      const filled = matched.length / Math.max(1, expected.filter(litAt).length);
      if (filled < minFilled) continue;
      const score = matched.length * Math.min(1, filled);
      if (!best || score > best.score) best = { matched, periodS, expected, score };
    }
  return best;
}

/**
 * How many rhythms of `matched` or more drops are to be expected among `drops` that came at random. Any two of them make a rhythm, and
 * each other one is within its tolerance with the probability `share`: the expectation over all pairs, by the binomial distribution.
 */
function chanceOf(matched: number, drops: number, share: number): number {
  const others = drops - 2;
  let tail = 0;
  let ways = 1;
  for (let k = 0; k <= others; k += 1) {
    if (k >= matched - 2) tail += ways * share ** k * (1 - share) ** (others - k);
    ways *= (others - k) / (k + 1);
  }
  return ((drops * (drops - 1)) / 2) * tail;
}
