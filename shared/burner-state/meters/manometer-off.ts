import type { FlameState } from '../../model/burner-words.ts';
import { leastFanPressure } from '../air.ts';
import type { Bin } from '../chain/filter.ts';
import { likeFlame, type SignalLevels } from '../chain/signal-step.ts';
import { slowestGaugeS } from '../chain/stray-signal.ts';

/** What both meters show in one step. */
export interface OffStep {
  pressure: number | undefined;
  /** Where gas stands shut, inH2O; undefined before that is known. */
  shut: number | undefined;
  flame: FlameState;
  /** Signal above dark, undefined where there is no reading, and the plateau's as it is known by then, in its unit. */
  height: number | undefined;
  plateau: number;
}

/** Follows whether the manometer shows no gas while a flame burns: its hose is off, or its tap is shut. */
export interface ManometerOff {
  /** One more step of the chain, at its end in seconds. */
  step(endS: number, shown: OffStep): void;
  /** Since when, seconds; undefined while the manometer is believed. */
  sinceS(): number | undefined;
  /** Whether its pressure says nothing of gas now: it is off, or it fell at once and the signal has stayed as it was for long enough. */
  isDoubted(): boolean;
  /** It has fallen at once to where gas stands shut, and stands there: no gas is seen to flow, whatever burns. */
  hasFallen(): boolean;
  /** A signal as high as a flame's stands over gas that is shown shut, by a manometer that shows no fan: with its hose off it would show the same. */
  mayBurnUnseen(): boolean;
}

/** A flame outlives the gas by less than this, seconds; the signal's own lag is known to the chain. */
const outlivesS = 2;
/** Drift and meter let shut gas stand so much higher, inH2O, or by this share. */
const margin = { least: 0.06, share: 0.1 };
/**
 * A hose that comes off lets the pressure fall by more than this in so long, with two readings a second, inH2O and seconds; a damped gauge
 * creeps down to that of shut gas within some seconds after that.
 */
const leapsBy = 0.5;
const leapsInS = 1.5;
const creepsForS = 4;
/** One reading from above is a spike; seconds. */
const backForS = 0.5;
/**
 * A hose does not change the flame: its signal stays near what it was. Hot refractory, which some detectors see for a minute after gas was
 * shut, falls below this share of it, if only slowly.
 */
const sameFlame = 0.9;
/** Below this share of the plateau a signal that stays is no sign of a flame that burns on. */
const leastFlame = 0.3;
/** By now the signal of the slowest detector has left that share, once a flame is out, seconds. */
const stillSameS = 1;
/** A signal as high as a flame's that comes up over shut gas may be a spark, which lasts no longer than a trial for ignition, seconds (common practice). */
const longestSparkS = 15;
/** The slowest gauge shows gas by now, and again: one reading from above may be a spike. Seconds. */
const shownTwiceS = slowestGaugeS + 2;
/** A signal that was dark for so long is none of a flame that burns on, nor one that a self-check interrupts, seconds. */
const outForS = 3;
/** Time constants of the averages of the signal before and now, seconds. */
const usualOverS = 3;
const nowOverS = 0.5;

/** What one bin and what is known at the end of it say. */
export const offStep = (
  { pressure, signal }: Bin,
  { dark, height }: Pick<SignalLevels, 'dark' | 'height'>,
  shut: number | undefined,
  flame: FlameState,
): OffStep => ({
  pressure,
  shut,
  flame,
  height: signal === undefined ? undefined : signal - dark,
  plateau: height,
});

const isBurning = (flame: FlameState) => flame === 'burning' || flame === 'unsteady';

/**
 * Makes one. Once off, a manometer that shows shut gas is believed no more, whatever the flame does: nobody sees whether the gas was shut.
 * It counts again when it has shown the pressure of gas for a while.
 */
export function createManometerOff(): ManometerOff {
  let lowSinceS: number | undefined;
  let burnedS = 0;
  /** Since when it shows gas again, seconds. */
  let backSinceS: number | undefined;
  let off: number | undefined;
  let before: number | undefined;
  /** The last readings of gas, one at least, however slow the manometer is. */
  let above: { atS: number; value: number; burns: boolean }[] = [];
  /** Whether a flame burned until the pressure fell: while it falls nobody knows. */
  let burned = false;
  /** When the pressure last leapt down. */
  let leaptS = -Infinity;
  let usual: number | undefined;
  let plateau = Infinity;
  let now: number | undefined;
  let signalS: number | undefined;
  const averaged = (mean: number | undefined, value: number, shareOfIt: number) =>
    mean === undefined ? value : mean + Math.min(1, shareOfIt) * (value - mean);
  const followSignal = (endS: number, height: number | undefined) => {
    if (height === undefined) return;
    const sinceS = endS - (signalS ?? endS);
    signalS = endS;
    now = averaged(now, height, sinceS / nowOverS);
    if (lowSinceS === undefined && endS - leaptS > creepsForS) usual = averaged(usual, height, sinceS / usualOverS);
  };
  let showsFan = false;
  let darkForS = 0;
  /** The signal was dark since the pressure is that of shut gas. */
  let wasDark = false;
  /** Since when it is as high as a flame's after that, seconds. */
  let brightSinceS: number | undefined;
  /** For how long the chain takes it for a flame, as where the manometer was never seen to show gas, seconds. */
  let litForS = 0;
  /** A signal that comes up over shut gas: too long for a spark, or taken for a flame although even a slow gauge would show the gas. */
  const followBright = (endS: number, sinceS: number, isLow: boolean, flame: FlameState) => {
    const share = (now ?? 0) / plateau;
    darkForS = share < leastFlame ? darkForS + sinceS : 0;
    wasDark = isLow && (wasDark || darkForS >= outForS);
    const isBright = wasDark && share >= likeFlame;
    brightSinceS = isBright ? (brightSinceS ?? endS) : undefined;
    litForS = isBright && isBurning(flame) ? litForS + sinceS : 0;
    if (isBright && (endS - brightSinceS! > longestSparkS || litForS >= shownTwiceS)) off ??= brightSinceS;
    // The flame went out as the pressure fell: what comes up later is no flame of before.
    if (wasDark && off === undefined) [lowSinceS, burnedS, leaptS] = [undefined, 0, -Infinity];
  };
  const isSame = () => now !== undefined && usual !== undefined && now >= sameFlame * usual;
  const burnsOn = (flame: FlameState) => isBurning(flame) && isSame();
  return {
    step(endS, { pressure, shut, flame, height, plateau: plateauNow }) {
      const sinceS = before === undefined ? 0 : endS - before;
      before = endS;
      followSignal(endS, height);
      plateau = plateauNow;
      if (pressure !== undefined) showsFan = pressure > leastFanPressure;
      if (pressure !== undefined && Math.max(...above.map(({ value }) => value)) - pressure >= leapsBy) leaptS = endS;
      if (pressure === undefined || shut === undefined) {
        if (lowSinceS !== undefined && burnsOn(flame)) burnedS += sinceS;
        if (pressure === undefined) followBright(endS, sinceS, wasDark, flame);
      } else if (pressure <= shut + Math.max(margin.least, margin.share * shut)) {
        // A hand takes longer to turn it down.
        if (lowSinceS === undefined && endS - leaptS <= creepsForS) lowSinceS = endS;
        above = [];
        backSinceS = undefined;
        followBright(endS, sinceS, true, flame);
        if (lowSinceS !== undefined && burnsOn(flame)) burnedS += sinceS;
      } else {
        above = [
          ...above.filter(({ atS }) => atS > endS - leapsInS),
          { atS: endS, value: pressure, burns: isBurning(flame) },
        ];
        const isCreeping = endS - leaptS <= creepsForS;
        burned = above.some(({ burns }) => burns) || (isCreeping && burned);
        backSinceS ??= endS;
        if (endS - backSinceS < backForS && (lowSinceS ?? brightSinceS) !== undefined) return;
        followBright(endS, sinceS, false, flame);
        [lowSinceS, burnedS, off] = [undefined, 0, undefined];
      }
      if (lowSinceS !== undefined && burnedS >= outlivesS) off ??= lowSinceS;
    },
    sinceS: () => off,
    hasFallen: () => lowSinceS !== undefined,
    mayBurnUnseen: () => brightSinceS !== undefined && !showsFan,
    isDoubted: () => {
      if (off !== undefined) return true;
      if (lowSinceS === undefined || before! - lowSinceS < stillSameS) return false;
      return burned && (usual ?? 0) >= leastFlame * plateau && isSame();
    },
  };
}
