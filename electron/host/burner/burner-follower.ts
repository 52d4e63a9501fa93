import type { Alarm, AlarmMemory } from '../../../shared/burner-state/alarms.ts';
import { nextAlarm, noAlarm } from '../../../shared/burner-state/alarms.ts';
import { type Air, airMoves, leastFanPressure } from '../../../shared/burner-state/air.ts';
import type { Known } from '../../../shared/burner-state/chain/bins.ts';
import { withoutFlameNow } from '../../../shared/burner-state/shown-state.ts';
import type { PurgeClock } from '../../../shared/burner-state/purge-clock.ts';
import { nextPurgeClock, noPurge, withGasOff } from '../../../shared/burner-state/purge-clock.ts';
import { type BurnerNow, createTracker } from '../../../shared/burner-state/tracker.ts';
import type { Role } from '../../../shared/model/reading.ts';
import { convertPressure, type PressureUnit } from '../../../shared/model/units.ts';
import type { FlameDoubt } from './running-trial.ts';

/** What the readings say of the burner, with everything that follows from it step by step: alarm and purge clock. Times in ms of one clock. */
export interface BurnerFollower {
  readonly now: BurnerNow | undefined;
  readonly alarm: Alarm | undefined;
  readonly purge: PurgeClock;
  /** A reading: pressures in inH2O, the signal in its own unit, NaN for one that is no number. */
  reading(role: Role, atMs: number, value: number): void;
  /** What is known of air through the furnace. `confirmed`: the technician has confirmed that the fan runs. */
  air(nowMs: number, confirmed: boolean): Air;
  /**
   * Takes in everything up to `nowMs`. Seconds since the step before count for the purge, unless they are more than `longestStepMs`.
   * `doubtsFlame`: what burns, by the signal, may be the spark, whose end is no loss of a flame.
   */
  step(nowMs: number, confirmed: boolean, doubtsFlame?: FlameDoubt): void;
  /** From now on with what `known` says: a new tracker, which learns from these readings; alarm and purge stay. */
  renew(known: Known, readings: readonly TrackedReading[]): void;
  /** Keeps an alarm that another follower has raised, unless there is one already: only shut gas ends it. */
  keepAlarm(alarm: Alarm | undefined): void;
  /** Gas was on when an earlier recording was cut off: an alarm until it is seen shut, and then a full purge. */
  recall(alarm: Alarm): void;
  /** The technician says that gas is off: ends an alarm of an earlier recording, and one behind a manometer that is off, and the doubt of a purge; any other stays. */
  confirmGasOff(): void;
}

/** A reading of one of the two meters that the tracker follows, as kept to learn from again. */
export interface TrackedReading {
  role: 'pilot_pressure' | 'flame_signal';
  atMs: number;
  value: number;
}

/** Readings are kept so long to learn from again, ms: a light-off and a stretch of burning teach the tracker its levels. */
export const keptMs = 300_000;

/** The readings without those that are too old to learn from; now and then, so that it costs little. */
export const withoutOld = (readings: TrackedReading[], nowMs: number): TrackedReading[] =>
  readings[0] && readings[0].atMs < nowMs - 2 * keptMs
    ? readings.filter(({ atMs }) => atMs >= nowMs - keptMs)
    : readings;

const pressureRoles: readonly Role[] = ['pilot_pressure', 'fan_pressure', 'supply_pressure', 'furnace_pressure'];

/** A value as the follower takes it: pressures in inH2O, everything else in its own unit. */
export const followedValue = (role: Role, unit: string, value: number): number =>
  pressureRoles.includes(role) ? convertPressure(value, unit as PressureUnit, 'inH2O') : value;

/** The burner is looked at ten times a second. */
export const stepMs = 100;
/** What a wired fan or valve said stands for so long, ms: a meter that has gone says nothing of now. */
const wiredHoldsMs = 3000;
/** Nobody looked for longer than this: what went by is no purge, ms. */
const longestStepMs = 5000;

const isManometerOff = (now: BurnerNow | undefined): boolean => now?.pressureTrouble?.kind === 'off';

/**
 * Whether an alarm ends on the technician's word that gas is off: no meter can show it, as gas was on when an earlier recording was cut off,
 * or as the manometer is not believed. Not while a flame burns: then gas is on.
 */
export const mayConfirmGasOff = (alarm: Alarm | undefined, now: BurnerNow | undefined): boolean =>
  alarm !== undefined && (alarm.interrupted === true || (isManometerOff(now) && alarm.unlitToS === undefined));

export function createBurnerFollower(initial: Known): BurnerFollower {
  let known = initial;
  let tracker = createTracker(known);
  let now: BurnerNow | undefined;
  let memory: AlarmMemory = noAlarm;
  let purge: PurgeClock = noPurge;
  let fan: { shown: boolean; atMs: number } | undefined;
  let valve: { open: boolean; atMs: number } | undefined;
  let lastMs: number | undefined;
  /** When the technician last said that gas is off and the hose is on. */
  let believedMs: number | undefined;

  const air = (nowMs: number, confirmed: boolean): Air => ({
    shown: fan && fan.shown && nowMs - fan.atMs <= wiredHoldsMs,
    confirmed,
  });

  return {
    get now() {
      return now;
    },
    get alarm() {
      return memory.alarm;
    },
    get purge() {
      return purge;
    },
    reading(role, atMs, value) {
      if (role === 'fan_pressure') fan = { shown: value > leastFanPressure, atMs };
      else if (role === 'pilot_valve') valve = { open: value >= 0.5, atMs };
      else if (role === 'pilot_pressure' || role === 'flame_signal') tracker.reading(role, atMs / 1000, value);
    },
    air,
    step(nowMs, confirmed, doubtsFlame) {
      const seen = air(nowMs, confirmed);
      now = tracker.advance(nowMs / 1000, airMoves(seen));
      if (now) {
        const valveOpen = valve && nowMs - valve.atMs <= wiredHoldsMs ? valve.open : undefined;
        const told = doubtsFlame ? withoutFlameNow(now) : now;
        // Until the trial was recognized the spark passed for a flame; the doubt of one that runs ends by itself soon after.
        const before = {
          ...memory,
          ...(doubtsFlame && { burned: false }),
          ...(doubtsFlame === 'trial-runs' && { untoldSinceS: undefined }),
        };
        memory = nextAlarm(before, { nowS: nowMs / 1000, now: told, trialSeconds: known.trialSeconds, valveOpen });
        const sinceMs = nowMs - (lastMs ?? nowMs);
        purge = nextPurgeClock(purge, now, seen, sinceMs > longestStepMs ? 0 : sinceMs / 1000);
      }
      lastMs = nowMs;
    },
    renew(told, readings) {
      known = told;
      tracker = createTracker(known);
      let steppedMs = -Infinity;
      for (const { role, atMs, value } of readings) {
        tracker.reading(role, atMs / 1000, value);
        if (atMs - steppedMs < stepMs) continue;
        tracker.advance(atMs / 1000);
        // What was said of the manometer then holds for another tracker as well.
        if (believedMs !== undefined && steppedMs < believedMs && atMs >= believedMs) tracker.believeManometer();
        steppedMs = atMs;
      }
    },
    keepAlarm(alarm) {
      memory = { ...memory, alarm: memory.alarm ?? alarm };
    },
    recall(alarm) {
      memory = { ...memory, alarm: memory.alarm ?? alarm };
      purge = { needed: true, purgedS: 0, waitedS: 0 };
    },
    confirmGasOff() {
      purge = withGasOff(purge);
      believedMs = lastMs;
      if (!mayConfirmGasOff(memory.alarm, now)) return;
      // While an alarm is on nothing burns, or it would not end: what the manometer shows is that gas is shut.
      if (isManometerOff(now)) tracker.believeManometer();
      memory = memory.alarm?.interrupted ? { ...memory, alarm: undefined } : { ...noAlarm, cameOn: memory.cameOn };
    },
  };
}
