import type { BurnerNow } from './tracker.ts';

/**
 * What must be told at once, full width and with a sound. `flame-lost`: gas flows and the flame that burned is gone; `gas-unlit`: gas
 * flows without a flame for longer than the trial for ignition; `not-shut`: the pressure does not fall although the valve was shut.
 */
export const alarmKinds = ['flame-lost', 'gas-unlit', 'not-shut'] as const;
export type AlarmKind = (typeof alarmKinds)[number];

/** An alarm that is on, since when in seconds of the capture. */
export interface Alarm {
  kind: AlarmKind;
  sinceS: number;
}

/** What decides beside the tracker. */
export interface AlarmInput {
  nowS: number;
  now: BurnerNow;
  /** Length of the trial for ignition, seconds. */
  trialSeconds: number;
  /** State of the pilot valve where it is wired; undefined otherwise. */
  valveOpen: boolean | undefined;
}

/** What an alarm needs to know of the step before. */
export interface AlarmMemory {
  alarm: Alarm | undefined;
  /** Since when gas flows and nothing burns; since when the valve is shut and gas flows all the same. */
  unlitSinceS: number | undefined;
  shutSinceS: number | undefined;
}

export const noAlarm: AlarmMemory = { alarm: undefined, unlitSinceS: undefined, shutSinceS: undefined };

/** A flame is called lost at this probability: the readings must speak nine to one against every other explanation. */
const certain = 0.9;
/** Gas is shut for good at this probability: only then does an alarm go. */
const shutFor = 0.9;
/** Longest time in which the pressure falls after a valve shut, seconds: a tight valve takes tenths, a slow gauge a second or two. */
const fallSeconds = 4;

/**
 * The alarm after one more step. It stays until gas is shut, whatever the flame does meanwhile: a flame that came back by itself
 * over unburnt gas is no reason to go on.
 */
export function nextAlarm(memory: AlarmMemory, { nowS, now, trialSeconds, valveOpen }: AlarmInput): AlarmMemory {
  const gasIsShut = now.latest.gas === 'shut' && now.latest.probability > shutFor;
  const isUnlit = now.unlit > 0.9;
  const unlitSinceS = isUnlit ? (memory.unlitSinceS ?? now.atS) : undefined;
  const staysOpen = valveOpen === false && now.latest.gas !== 'shut' && now.latest.gas !== 'unknown';
  const shutSinceS = staysOpen ? (memory.shutSinceS ?? nowS) : undefined;

  const raised: AlarmKind | undefined =
    now.lost > certain
      ? 'flame-lost'
      : shutSinceS !== undefined && nowS - shutSinceS > fallSeconds
        ? 'not-shut'
        : unlitSinceS !== undefined && nowS - unlitSinceS > trialSeconds
          ? 'gas-unlit'
          : undefined;
  // A valve that is open again is no valve that does not shut; one that nobody sees any more may be.
  const isOverruled = memory.alarm?.kind === 'not-shut' && valveOpen === true;
  const goesOn = gasIsShut || isOverruled ? undefined : memory.alarm;
  const alarm = goesOn ?? (raised && !gasIsShut ? { kind: raised, sinceS: nowS } : undefined);
  return { alarm, unlitSinceS, shutSinceS };
}
