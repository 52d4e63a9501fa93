import { log } from '../../numerics/elementary.ts';

/** Why a meter's number says nothing now. */
export type MeterTrouble = 'silent' | 'frozen' | 'no-number';

/** Follows one meter and says whether its last number still stands for now. */
export interface MeterWatch {
  /** A reading came; NaN when the meter said overload or nothing readable. */
  reading(elapsedS: number, value: number): void;
  /** The trouble at `nowS`, and since when; undefined when the meter is sound. */
  trouble(nowS: number): { kind: MeterTrouble; sinceS: number } | undefined;
}

/** The slowest meters read every two seconds (PRIMER of the trade: 0.5 to 50 a second); none is called silent sooner than this. */
const leastSilenceS = 2.5;
/** A meter is silent once it has missed so many of its usual intervals. */
const missedIntervals = 5;
/** One false word in so many rests: a repetition must be as improbable as this before it is called frozen. */
const improbable = 1e-8;
/** A value may repeat for so long without a question, seconds. */
const leastFrozenS = 8;
/**
 * A meter that repeats more than this share of its readings shows digits coarser than its noise. At rest in the middle of a digit it repeats
 * one for half a minute, and how often it does elsewhere says nothing of that: only a much longer run than any before does.
 */
const coarse = 0.45;
const coarseFrozenS = 60;
const timesLongest = 6;

/**
 * Makes the watch of one meter. Frozen: the same digits come again and again, for longer than the meter's own dither ever let it,
 * away from both ends of its range, where a clipped amplifier or a gauge at zero stands still rightly.
 */
export function createMeterWatch(): MeterWatch {
  let lastS = -Infinity;
  let interval = 0.2;
  let value = Number.NaN;
  let runS = -Infinity; // since when the value repeats
  let run = 0;
  let longestS = 0;
  // Repetitions among all successive readings; begins as a meter that repeats every other reading.
  let repeats = 10;
  let all = 20;
  let low = Infinity;
  let high = -Infinity;
  let digit = Infinity; // smallest step between two values
  return {
    reading(elapsedS, next) {
      if (lastS > -Infinity && elapsedS > lastS) interval += 0.05 * (Math.min(elapsedS - lastS, 5) - interval);
      lastS = Math.max(lastS, elapsedS);
      if (next === value) {
        run += 1;
      } else {
        if (Math.abs(next - value) < digit) digit = Math.abs(next - value);
        // A run counts once it has ended: while it lasts it must not make itself look usual.
        if (!Number.isNaN(value)) {
          repeats += Math.min(run, 20);
          all += Math.min(run, 20) + 1;
          longestS = Math.max(longestS, lastS - runS);
          if (all > 2000) {
            repeats /= 2;
            all /= 2;
          }
        }
        run = 0;
        runS = elapsedS;
        value = next;
      }
      if (next < low) low = next;
      if (next > high) high = next;
    },
    trouble(nowS) {
      if (nowS - lastS > Math.max(leastSilenceS, missedIntervals * interval)) return { kind: 'silent', sinceS: lastS };
      if (Number.isNaN(value)) return { kind: 'no-number', sinceS: runS };
      const range = high - low;
      const isAtEnd = value <= low + 0.03 * range || value >= high - Math.min(0.03 * range, 1.5 * digit);
      const isLong =
        repeats / all > coarse
          ? lastS - runS > Math.max(coarseFrozenS, timesLongest * longestS)
          : lastS - runS > Math.max(leastFrozenS, timesLongest * longestS) &&
            run * log(repeats / all) < log(improbable);
      if (!isAtEnd && isLong) return { kind: 'frozen', sinceS: runS };
      return undefined;
    },
  };
}
