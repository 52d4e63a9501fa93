import { leastFanPressure } from './air.ts';

/** What the manometer shows of the fan in one step; `pressure` of shut gas, inH2O, undefined where gas is not shut or the gauge not believed. */
export interface FanStep {
  pressure: number | undefined;
  /** Fan-only pressure as entered, inH2O. */
  fanOnly: number | undefined;
}

/** Follows whether a fan that was confirmed still shows at the gauge. A fan that raises no pressure there cannot be followed. */
export interface FanWatch {
  /** One more step, at `nowMs`. Whether the fan has gone. */
  isGone(nowMs: number, shown: FanStep): boolean;
}

/** Shut gas below half of the fan-only pressure for so long, ms: the fan has stopped. */
const goneMs = 1500;
/** Shut gas that stands above a gauge at rest for so long shows the fan, ms: gas that comes on or bleeds off passes sooner. */
const seenMs = 5000;

/** Makes one for a fan that has just been confirmed. */
export function createFanWatch(): FanWatch {
  let shownSinceMs: number | undefined;
  let lowSinceMs: number | undefined;
  let wasSeen = false;
  return {
    isGone(nowMs, { pressure, fanOnly }) {
      shownSinceMs = pressure !== undefined && pressure > 2 * leastFanPressure ? (shownSinceMs ?? nowMs) : undefined;
      wasSeen ||= shownSinceMs !== undefined && nowMs - shownSinceMs >= seenMs;
      const shows = fanOnly === undefined ? wasSeen : fanOnly > leastFanPressure;
      // More air than at light-off may have been seen: only a gauge that shows none anymore tells that the fan has stopped.
      const least = fanOnly === undefined ? leastFanPressure : fanOnly / 2;
      lowSinceMs = shows && pressure !== undefined && pressure < least ? (lowSinceMs ?? nowMs) : undefined;
      return lowSinceMs !== undefined && nowMs - lowSinceMs >= goneMs;
    },
  };
}
