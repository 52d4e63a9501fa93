import type { BurnerNow } from '../tracker.ts';

/**
 * What happened to a trial: gas came on; or it is over, and why. `fromS` and `untilS` bound the readings that measure it, gas still shut
 * at the one and the trial over at the other. Times in the tracker's seconds.
 */
export type TrialEvent =
  | { kind: 'gas-on'; atS: number }
  | { kind: 'over'; fromS: number; untilS: number; why: 'proved' | 'time-over' | 'gas-shut' };

/** Recognizes light-off trials live, without a hand: gas that comes on after it was shut begins one. */
export interface TrialFollower {
  step(now: BurnerNow): TrialEvent | undefined;
  /** Whether a trial is going on, and since when. */
  runningSinceS(): number | undefined;
}

/** Seconds of shut gas before the first sign of a trial that its measurement sees. */
const beforeS = 3;

/** Makes a follower. `trialSeconds`: length of the trial for ignition. */
export function createTrialFollower(trialSeconds: number): TrialFollower {
  let wasShut = false;
  let beganS: number | undefined;
  const end = (atS: number, why: 'proved' | 'time-over' | 'gas-shut'): TrialEvent => {
    const fromS = beganS! - beforeS;
    beganS = undefined;
    return { kind: 'over', fromS, untilS: atS, why };
  };
  return {
    step({ moment, atS }) {
      const { gas, flame } = moment;
      const isOn = gas === 'opening' || gas === 'flowing';
      const isShut = gas === 'shut' || gas === 'closing';
      if (beganS !== undefined) {
        if (flame === 'burning' || flame === 'unsteady') return end(atS, 'proved');
        if (isShut) {
          wasShut = gas === 'shut';
          return end(atS, 'gas-shut');
        }
        // Half a second more: a flame that is proved at the very end must be seen.
        if (atS - beganS > trialSeconds + 0.5) return end(atS, 'time-over');
        return undefined;
      }
      if (isOn && wasShut) {
        wasShut = false;
        beganS = atS;
        return { kind: 'gas-on', atS };
      }
      if (gas === 'shut') wasShut = true;
      else if (gas !== 'unknown') wasShut = false;
      return undefined;
    },
    runningSinceS: () => beganS,
  };
}
