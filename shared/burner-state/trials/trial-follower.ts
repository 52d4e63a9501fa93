import { comesIn } from '../../model/burner-words.ts';
import type { BurnerNow } from '../tracker.ts';
import { beforeS, shortestShutS } from './measure-trial.ts';

/**
 * What happened to a trial: gas came on; it did not after all; or it is over, and why. `fromS` and `untilS` bound the readings that
 * measure it, gas still shut at the one and the trial over at the other. Times in the tracker's seconds.
 */
export type TrialEvent =
  | { kind: 'gas-on'; atS: number }
  | { kind: 'taken-back'; atS: number }
  | { kind: 'over'; fromS: number; untilS: number; why: 'proved' | 'time-over' | 'gas-shut' };

/** Recognizes light-off trials live, without a hand: gas that comes on after it was shut begins one. */
export interface TrialFollower {
  /** One more step. `trialSeconds`: length of the trial for ignition. */
  step(now: BurnerNow, trialSeconds: number): TrialEvent | undefined;
  /**
   * Whether gas has just come on from shut gas, so that a trial is about to begin: the newest readings show it, `moment` does not speak of it
   * yet. To be asked after `step`.
   */
  isBeginning(now: BurnerNow, trialSeconds: number): boolean;
  /** Another tracker speaks from now on: shut gas that the one before had seen does not make gas of this one come on. */
  anotherTracker(): void;
}

/** The tracker's `moment` is less than this long ago, seconds; what it says of a time in which the manometer was in trouble was not seen. */
const momentDelayS = 1;
/**
 * Gas that is said to be shut again so soon, seconds, was not on: no valve opens and shuts in that, but readings may be unclear for some
 * tenths before gas comes on.
 */
const leastOnS = 0.5;
/** What closes for less than this, seconds, was a pressure that fell as a flame was lost. */
const closesForS = 0.8;
/** Gas that was not seen for longer than this may have come on at any time since, seconds. */
const longestUnseenS = 3;

/** Makes a follower. */
export function createTrialFollower(): TrialFollower {
  let shutS = -Infinity;
  /** Since when gas is shut or closing, or nobody can say that it is not. */
  let shutFromS: number | undefined;
  /** The valve was seen to close since a flame last burned, whatever gas has flowed since. */
  let hasClosed = false;
  let closesFromS: number | undefined;
  let seenFromS = -Infinity;
  let beganS: number | undefined;
  /** Since when the gas of the trial that runs is shut. */
  let endsS: number | undefined;
  const end = (atS: number, why: 'proved' | 'time-over' | 'gas-shut'): TrialEvent => {
    const fromS = beganS! - beforeS;
    beganS = undefined;
    endsS = undefined;
    return { kind: 'over', fromS, untilS: atS, why };
  };
  return {
    step({ moment, atS, pressureTrouble }, trialSeconds) {
      const { gas, flame } = moment;
      if (pressureTrouble) seenFromS = atS + momentDelayS;
      const isShut = gas === 'shut' || gas === 'closing';
      const isBurning = flame === 'burning' || flame === 'unsteady';
      if (!isShut || atS < seenFromS) closesFromS = undefined;
      else closesFromS ??= atS;
      if (closesFromS !== undefined && atS - closesFromS >= closesForS) hasClosed = true;
      else if (isBurning || pressureTrouble) hasClosed = false;
      if (beganS !== undefined) {
        // A flame that is said to burn at once was there before: the readings are unclear, and gas may be taken back.
        if (isBurning && atS - beganS >= leastOnS) return end(atS, 'proved');
        if (isShut) {
          if (atS - beganS < leastOnS) {
            shutS = atS;
            beganS = undefined;
            return { kind: 'taken-back', atS };
          }
          endsS ??= atS;
          if (atS - endsS < shortestShutS) return undefined;
          if (gas === 'shut') shutS = atS;
          return end(endsS, 'gas-shut');
        }
        if (gas !== 'unknown') endsS = undefined;
        // Half a second more: a flame that is proved at the very end must be seen.
        if (atS - beganS > trialSeconds + 0.5) return end(atS, 'time-over');
        return undefined;
      }
      // A flame that is lost was burning: its gas did not come on now.
      // A valve that leaks is not said to be shut, nor one behind a manometer whose zero has shifted: its gas comes on as it opens again.
      const wasShut = atS - shutS <= longestUnseenS || (hasClosed && (gas === 'opening' || flame === 'lighting'));
      // What is called shut for a step or two between doubts, and burns as soon as it is not, was turned down fast.
      const burnedOn = isBurning && shutS - (shutFromS ?? shutS) < shortestShutS;
      if (isShut) shutFromS ??= atS;
      else if (gas !== 'unknown') shutFromS = undefined;
      if (comesIn(gas) && flame !== 'lost' && wasShut && !burnedOn) {
        hasClosed = false;
        shutS = -Infinity;
        beganS = atS;
        return { kind: 'gas-on', atS };
      }
      if (gas === 'shut' && atS >= seenFromS) shutS = atS;
      else if (gas !== 'unknown') shutS = -Infinity;
      return undefined;
    },
    isBeginning({ moment, latest, atS, pressureTrouble, signalTrouble }, trialSeconds) {
      if (beganS !== undefined || pressureTrouble || signalTrouble) return false;
      // A flame that is lost was burning: its gas did not come on now.
      if (moment.flame === 'lost' || latest.flame === 'lost') return false;
      const isShut = latest.gas === 'shut' || latest.gas === 'closing' || moment.gas === 'closing';
      return !isShut && atS - shutS <= Math.min(longestUnseenS, trialSeconds);
    },
    anotherTracker() {
      shutS = -Infinity;
      hasClosed = false;
    },
  };
}
