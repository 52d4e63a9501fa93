import { log } from '../../numerics/elementary.ts';

/** Why a meter's number says nothing now. `off`: the manometer went down to where gas is shut although the flame burned on. */
export type MeterTrouble = 'silent' | 'frozen' | 'no-number' | 'off';

/** Follows one meter and says whether its last number still stands for now. */
export interface MeterWatch {
  /** A reading came; NaN when the meter said overload or nothing readable. */
  reading(elapsedS: number, value: number): void;
  /** The trouble at `nowS`, and since when; undefined when the meter is sound. */
  trouble(nowS: number): { kind: MeterTrouble; sinceS: number } | undefined;
}

/** The slowest meters read every two seconds (common practice: 0.5 to 50 a second); none is called silent sooner than this. */
const leastSilenceS = 2.5;
/** A meter is silent once it has missed so many of its usual intervals. */
const missedIntervals = 5;
/** A meter shows dashes for some tenths of a second while it changes its range (common practice), as when a flame lights. */
const leastNoNumberS = 2;
/** One false word in so many rests: a repetition must be as improbable as this before it is called frozen. */
const improbable = 1e-8;
/** A value may repeat for so long without a question, seconds. */
const leastFrozenS = 8;
/**
 * A meter that repeats more than this share of its readings at rest shows digits coarser than its noise. Amid a digit it repeats one for
 * minutes; only where it was seen to dither between two of them at rest does a much longer run than any of those speak against it.
 */
const coarse = 0.45;
/** As if so many successive readings at rest had been seen before the first, every other one a repetition; so many more tell a fine meter. */
const priorReadings = 20;
const fewestSeen = 10;
const coarseFrozenS = 60;
const timesLongest = 6;
/** Runs of at least so many seconds that show how long one lasts at rest, and how many of them do. */
const restingRunS = 2;
const fewestRuns = 4;
/** Of the changes of a meter at rest two in three turn back (independent noise); those of one that is turned go on. */
const changesPerReversal = 1.5;
/** A highest value that was left so often dithers there like any other: nothing is clipped. */
const mostVisits = 10;

/**
 * Makes the watch of one meter. Frozen: the same digits come again and again, for longer than the meter's own dither ever let it,
 * away from zero, where a gauge stands still rightly, and from a highest value that a clipped amplifier may repeat.
 */
export function createMeterWatch(): MeterWatch {
  let lastS = -Infinity;
  let interval = 0.2;
  let value = Number.NaN;
  let runS = -Infinity; // since when the value repeats
  let run = 0;
  let longestS = 0;
  let runsAtRest = 0;
  // Repetitions among all successive readings at rest; begins as a meter that repeats every other reading.
  let repeats = priorReadings / 2;
  let all = priorReadings;
  let change = 0;
  let low = Infinity;
  let high = -Infinity;
  let visitsAtHigh = 0;
  const isAtEnd = () => value <= low + 0.03 * (high - low) || (value >= high && visitsAtHigh < mostVisits);
  /** Whether the run that ends with the last reading, or goes on, is longer than the meter's own dither lets one be. */
  const isFrozen = () => {
    const seconds = lastS - runS;
    if (isAtEnd() || Number.isNaN(value)) return false;
    // A meter that turned back twice is not yet known to dither.
    if (repeats / all > coarse || all < priorReadings + fewestSeen)
      return runsAtRest >= fewestRuns && seconds > Math.max(coarseFrozenS, timesLongest * longestS);
    return seconds > Math.max(leastFrozenS, timesLongest * longestS) && run * log(repeats / all) < log(improbable);
  };
  /** What a run that has ended says of the next: while it lasts it must not make itself look usual, nor one that was no dither. */
  const learnRun = (endS: number, next: number) => {
    // A dark detector and a gauge at rest repeat one value for minutes, which says nothing of how a moving value dithers.
    if (Number.isNaN(value) || isAtEnd() || isFrozen()) return;
    const turnsBack = (next - value) * change < 0;
    repeats += Math.min(run, 20);
    all += Math.min(run, 20) + (turnsBack ? changesPerReversal : 0);
    if (turnsBack && endS - runS >= restingRunS) {
      runsAtRest += 1;
      longestS = Math.max(longestS, endS - runS);
    }
    if (all > 2000) {
      repeats /= 2;
      all /= 2;
    }
  };
  return {
    reading(elapsedS, next) {
      if (lastS > -Infinity && elapsedS > lastS) interval += 0.05 * (Math.min(elapsedS - lastS, 5) - interval);
      const repeatsIt = next === value || (Number.isNaN(next) && Number.isNaN(value));
      if (!repeatsIt) learnRun(lastS, next);
      lastS = Math.max(lastS, elapsedS);
      if (repeatsIt) {
        run += 1;
      } else {
        if (value === high) visitsAtHigh += 1;
        change = Number.isFinite(next - value) ? next - value : 0;
        run = 0;
        runS = elapsedS;
        value = next;
      }
      if (next < low) low = next;
      if (next > high) {
        high = next;
        visitsAtHigh = 0;
      }
    },
    trouble(nowS) {
      if (nowS - lastS > Math.max(leastSilenceS, missedIntervals * interval)) return { kind: 'silent', sinceS: lastS };
      if (Number.isNaN(value)) return nowS - runS > leastNoNumberS ? { kind: 'no-number', sinceS: runS } : undefined;
      if (isFrozen()) return { kind: 'frozen', sinceS: runS };
      return undefined;
    },
  };
}
