import type { BurnerNow } from './tracker.ts';

/** What an alarm knows of the time in which gas was unlit. Seconds of the capture. */
export interface UnlitTime {
  /** Since when the alarm is on. */
  sinceS: number;
  /**
   * From when gas was unlit, or nobody could see that it was not, and until when; without an end while it is. The flame may have come
   * back in between for so short a time that it was never said to burn. Absent where that is not what the alarm is about.
   */
  unlitFromS?: number;
  unlitToS?: number;
  /** It may have been unlit for longer: no meter saw when that began. Then `safeUntilS` is when a meter last showed a flame or shut gas. */
  isLeast?: true;
  safeUntilS?: number;
}

/** Until when gas was surely not unlit, seconds of the capture: what a sound meter has shown. */
export interface SafeMemory {
  /** A flame, and shut gas, last seen; -Infinity before the first time. */
  flameSeenS: number;
  shutSeenS: number;
  /** A meter was in trouble since, so that what happened in between was not seen. */
  wasBlind: boolean;
}

export const nothingSeen: SafeMemory = { flameSeenS: -Infinity, shutSeenS: -Infinity, wasBlind: false };

/** Gas is unlit this long after a flame or shut gas was last seen although both meters see it: their lag, seconds. */
const meterLagS = 2;

/**
 * What is known of safe moments after one more step. The trouble of a meter is noticed after it began: what its readings seemed to show
 * since then does not count.
 *
 * @param showsFlame, showsShut  what the readings of now show, of a meter that is sound
 */
export function rememberSafe(
  memory: SafeMemory,
  nowS: number,
  { pressureTrouble, signalTrouble }: Pick<BurnerNow, 'pressureTrouble' | 'signalTrouble'>,
  { showsFlame, showsShut }: { showsFlame: boolean; showsShut: boolean },
): SafeMemory {
  const isBlind = pressureTrouble !== undefined || signalTrouble !== undefined;
  return {
    flameSeenS: showsFlame && !signalTrouble ? nowS : Math.min(memory.flameSeenS, signalTrouble?.sinceS ?? Infinity),
    shutSeenS: showsShut && !pressureTrouble ? nowS : Math.min(memory.shutSeenS, pressureTrouble?.sinceS ?? Infinity),
    wasBlind: isBlind || (memory.wasBlind && !showsFlame && !showsShut),
  };
}

/** What an alarm about gas that is seen to be unlit since `unlitFromS` must say of the time before: nobody saw it, or nobody looked. */
export function unseenBefore(
  { flameSeenS, shutSeenS, wasBlind }: SafeMemory,
  unlitFromS: number,
): Pick<UnlitTime, 'isLeast' | 'safeUntilS'> {
  const safeUntilS = Math.max(flameSeenS, shutSeenS);
  if (safeUntilS === -Infinity) return { isLeast: true };
  return wasBlind && unlitFromS - safeUntilS > meterLagS ? { isLeast: true, safeUntilS } : {};
}

/**
 * How long gas was unlit, seconds: until now, or until the flame came back; at least so long, where `isLeast`. For an alarm of another
 * kind, how long it has been on.
 */
export const unlitSeconds = ({ sinceS, unlitFromS, unlitToS }: UnlitTime, nowS: number): number =>
  Math.max(0, (unlitToS ?? nowS) - (unlitFromS ?? sinceS));

/** How long it was unlit at most, where no meter saw when that began and one had shown before that it was not; else undefined. */
export const longestUnlitSeconds = ({ safeUntilS, unlitToS }: UnlitTime, nowS: number): number | undefined =>
  safeUntilS === undefined ? undefined : Math.max(0, (unlitToS ?? nowS) - safeUntilS);

/** Whole seconds of unlit gas, as the sentence and the counter beside it say them. */
export const shownSeconds = (seconds: number): number => Math.max(1, Math.floor(seconds));
