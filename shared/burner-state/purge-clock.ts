import { type FlameState, type GasState, isGasOn } from '../model/burner-words.ts';
import { type Air, airMoves } from './air.ts';
import type { BurnerNow } from './tracker.ts';

/** How a purge came to be known. `air`: a wired fan pressure shows it; `confirmed`: the technician has confirmed that the fan runs. */
export type PurgeBy = 'air' | 'confirmed';

/** The time since gas was last on, as far as it counts. Seconds. */
export interface PurgeClock {
  /**
   * Gas was on: the next trial has to wait for a full purge. Before the first gas of a recording none is insisted on, as the control may
   * have purged before the recording began; whether one was seen is counted all the same.
   */
  needed: boolean;
  /** Gas shut, signal dark and air moving: these seconds count. */
  purgedS: number;
  /** Gas shut and signal dark, but nobody knows of air: a wait, which does not count. */
  waitedS: number;
  /** What showed the air of the seconds that count; the weaker of both when both did. */
  by?: PurgeBy;
  /** Seconds in a row, until now, in which no air was known to move. */
  stillS?: number;
  /**
   * What may have been a flame over gas that no meter shows stands, or has ended: no second counts from its end until gas is seen to come on,
   * or the technician says that it is off.
   */
  mayHaveBurned?: true;
}

/** Air that stops for so long breaks a purge off, seconds: it starts over (common practice). Shorter, a fan pressure only wavers. */
const breaksOffS = 2;

export const noPurge: PurgeClock = { needed: false, purgedS: 0, waitedS: 0 };

/** Whether gas is shut and nothing burns, as far as anybody knows: then a purge can count. */
export const isShutAndDark = ({ gas, flame }: { gas: GasState; flame: FlameState }): boolean =>
  gas === 'shut' && (flame === 'dark' || flame === 'out');

/**
 * The purge clock after `elapsedS` more seconds in the state `now`. Gas that is on, or a flame that is lost, starts it anew, and so does
 * the end of what may have been a flame over gas that no meter shows; what cannot be known counts for nothing.
 */
export function nextPurgeClock(clock: PurgeClock, now: BurnerNow, air: Air, elapsedS: number): PurgeClock {
  const { gas, flame } = now.moment;
  if (isGasOn(gas)) return { needed: true, purgedS: 0, waitedS: 0 };
  if (!isShutAndDark({ gas, flame })) return now.mayBurnUnseen ? { ...clock, mayHaveBurned: true } : clock;
  if (clock.mayHaveBurned) return { needed: true, purgedS: 0, waitedS: 0, mayHaveBurned: true };
  if (!airMoves(air)) {
    const { by: _, ...rest } = clock;
    const stillS = (clock.stillS ?? 0) + elapsedS;
    const waitedS = clock.waitedS + elapsedS;
    return stillS < breaksOffS ? { ...clock, waitedS, stillS } : { ...rest, purgedS: 0, waitedS, stillS };
  }
  const { stillS: _, ...moving } = clock;
  const by: PurgeBy = air.shown && clock.by !== 'confirmed' ? 'air' : 'confirmed';
  return { ...moving, purgedS: clock.purgedS + elapsedS, by };
}

/** The purge clock once the technician has said that gas is off. */
export function withGasOff({ mayHaveBurned: _, ...clock }: PurgeClock): PurgeClock {
  return clock;
}

/** Whether a full purge is on record since gas was last on, or since the recording began. */
export const isPurgeSeen = ({ purgedS }: Pick<PurgeClock, 'purgedS'>, purgeSeconds: number): boolean =>
  purgedS >= purgeSeconds;

/** Seconds of purge that are still missing; 0 when none is insisted on or it was long enough. */
export const purgeMissing = (
  { needed, purgedS }: Pick<PurgeClock, 'needed' | 'purgedS'>,
  purgeSeconds: number,
): number => (needed ? Math.max(0, purgeSeconds - purgedS) : 0);
