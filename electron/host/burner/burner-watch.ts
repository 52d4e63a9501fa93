import { isDeepStrictEqual } from 'node:util';
import type { Alarm } from '../../../shared/burner-state/alarms.ts';
import type { Known } from '../../../shared/burner-state/chain/bins.ts';
import { knownFrom } from '../../../shared/burner-state/chain/bins.ts';
import type { BurnerSituation } from '../../../shared/burner-state/permissions.ts';
import { createFanWatch, type FanWatch } from '../../../shared/burner-state/fan-watch.ts';
import type { PurgeClock } from '../../../shared/burner-state/purge-clock.ts';
import { withoutFlameNow } from '../../../shared/burner-state/shown-state.ts';
import { purgeMissing } from '../../../shared/burner-state/purge-clock.ts';
import type { BurnerNow } from '../../../shared/burner-state/tracker.ts';
import type { BurnerView } from '../../../shared/contract/api/burner.ts';
import type { Role } from '../../../shared/model/reading.ts';
import type { Setup } from '../../../shared/model/setup.ts';
import { purgeSecondsOf } from '../../../shared/model/trials/valid-trials.ts';
import type { MeterLine } from '../acquire/meter/meter.ts';
import type { Target } from '../acquire/record/store-writer.ts';
import type { Clock } from '../clock.ts';
import type { FlameDoubt } from './running-trial.ts';
import {
  type BurnerFollower,
  createBurnerFollower,
  followedValue,
  stepMs,
  type TrackedReading,
  withoutOld,
} from './burner-follower.ts';
import { burnerView, shownOf } from './burner-view.ts';

/** What the watch needs of the host. */
export interface BurnerWatchContext {
  clock: () => Clock;
  /** Setup of the capture that is being recorded; empty without one. The same object until it has been changed. */
  setup(): Setup;
  /** An alarm began or ended: the capture gets its mark. `before`: the one that stood until now; `isSaid`: a technician said that gas is off. */
  onAlarm(alarm: Alarm | undefined, before: Alarm | undefined, isSaid: boolean): void;
  /** What the burner does now, at `nowS` of the tracker's clock; `purge`: as it stood before gas set it back. True: gas that is on is a trial's. */
  onNow(now: BurnerNow, nowS: number, purge: PurgeClock): boolean;
  /** What burns, by the signal, may be the spark of a trial that runs. */
  doubtsFlame(): FlameDoubt | undefined;
  /** The fan that the technician confirmed does not run anymore: the manometer shows no fan-only pressure. */
  onFanGone(): void;
  /** The state changed. */
  onChange(): void;
}

/** Follows what the burner does from the published lines of all meters, recording or not. */
export interface BurnerWatch {
  add(lines: readonly MeterLine[]): void;
  situation(): BurnerSituation;
  /** Seconds of purge still missing before a trial; undefined where the meters cannot show it. */
  purgeMissingS(): number | undefined;
  view(): BurnerView;
  /** The technician confirms that the fan runs, or takes that back. */
  confirmFan(running: boolean): void;
  /** What the setup says to the tracker, for a flame signal in `unit` or that of the meter. */
  known(unit?: string): Known;
  /** What both meters read in the last minutes. */
  recent(): readonly TrackedReading[];
  /**
   * Goes on with a follower that has taken in the readings of an interrupted recording and all of `recent` after them. `stored`: the last
   * minutes of that recording, to learn from again. An alarm that is on stays.
   */
  resume(replayed: BurnerFollower, known: Known, stored: readonly TrackedReading[]): void;
  /** Raises the alarm that stood when an earlier recording was cut off, and ends it on the technician's word. */
  recall(alarm: Alarm): void;
  confirmGasOff(): void;
  stop(): void;
}

/** The watch of a host, with the trials that it records. */
export interface FollowedBurner extends Omit<BurnerWatch, 'known' | 'recent' | 'resume' | 'recall'> {
  /** Stores a trial that is over at once: the recording ends. */
  settleTrial(): void;
  /** Takes in what was recorded of a capture, elapsed seconds up to `untilS`, before it was interrupted. */
  catchUp(target: Target, untilS: number): Promise<void>;
  /** Looks whether the newest recording was cut off with gas on and no flame, and says so until gas is off. */
  recallInterrupted(): Promise<void>;
}

const isSameAlarm = (one: Alarm | undefined, other: Alarm | undefined): boolean =>
  one?.kind === other?.kind && one?.interrupted === other?.interrupted && one?.count === other?.count;

export function createBurnerWatch(context: BurnerWatchContext): BurnerWatch {
  let signalUnit = 'V';
  let setup: Setup = {};
  let known: Known = knownFrom(setup, signalUnit);
  let follower = createBurnerFollower(known);
  let recent: TrackedReading[] = [];
  /** Of the fan that the technician has confirmed; undefined without one. */
  let fan: FanWatch | undefined;
  /** A fan that was confirmed has gone since. */
  let isFanGone = false;
  let lastShown = '';
  let trialGas = false;

  /** When what the tracker is told has changed, begins it anew with what was read in the last minutes. */
  const renewTracker = () => {
    const told = knownFrom(setup, signalUnit);
    if (isDeepStrictEqual(told, known)) return;
    known = told;
    follower.renew(known, recent);
  };

  const accept = (role: Role, unit: string, value: number, atMs: number) => {
    const own = followedValue(role, unit, value);
    if (role === 'flame_signal' && unit !== signalUnit) {
      signalUnit = unit;
      recent = recent.filter((reading) => reading.role === 'pilot_pressure');
      renewTracker();
    }
    if (role === 'pilot_pressure' || role === 'flame_signal') recent.push({ role, atMs, value: own });
    follower.reading(role, atMs, own);
  };

  /** Takes a confirmed fan back that does not show at the gauge anymore. */
  const watchFan = (nowMs: number) => {
    const { now } = follower;
    const isShut = now?.moment.gas === 'shut' && !now.pressureTrouble;
    const pressure = isShut ? recent.findLast(({ role }) => role === 'pilot_pressure')?.value : undefined;
    if (!fan?.isGone(nowMs, { pressure, fanOnly: known.fanOnly })) return;
    fan = undefined;
    isFanGone = true;
    context.onFanGone();
  };

  const step = () => {
    const nowMs = context.clock().monotonicMs();
    const next = context.setup();
    if (next !== setup) {
      setup = next;
      renewTracker();
    }
    recent = withoutOld(recent, nowMs);
    watchFan(nowMs);
    const { alarm: before, purge } = follower;
    follower.step(nowMs, fan !== undefined, context.doubtsFlame());
    const { now } = follower;
    if (now) {
      if (!isSameAlarm(before, follower.alarm)) context.onAlarm(follower.alarm, before, false);
      trialGas = context.onNow(now, nowMs / 1000, purge);
    }
    const shown = shownOf(view());
    if (shown === lastShown) return;
    lastShown = shown;
    context.onChange();
  };

  /** What is said of the burner: a flame only where the signal is not the spark's. */
  const said = (): BurnerNow | undefined => {
    const { now } = follower;
    return now && context.doubtsFlame() ? withoutFlameNow(now) : now;
  };
  const wantedS = () => purgeSecondsOf(setup);
  /** Both meters are sound: without either nobody can say that gas is shut and nothing burns. */
  const seesBoth = () => follower.now !== undefined && !follower.now.pressureTrouble && !follower.now.signalTrouble;
  const view = (): BurnerView => {
    const nowMs = context.clock().monotonicMs();
    const isFanOnlyEntered = setup.fanOnlyPressure !== undefined;
    const meters = { seesBoth: seesBoth(), isFanOnlyEntered };
    return burnerView(
      { ...follower, now: said() },
      { nowMs, confirmed: fan !== undefined, isFanGone, wantedS: wantedS(), ...meters, trialGas },
    );
  };

  const timer = setInterval(step, stepMs);
  timer.unref();
  return {
    add(lines) {
      for (const { readings, atMs } of lines)
        for (const { role, unit, value } of readings) accept(role, unit, value, atMs);
    },
    situation: () => ({ now: said(), alarm: follower.alarm }),
    purgeMissingS: () => (seesBoth() ? purgeMissing(follower.purge, wantedS()) : undefined),
    view,
    known: (unit) => knownFrom(context.setup(), unit ?? signalUnit),
    recent: () => recent,
    resume(replayed, replayedKnown, stored) {
      if (replayedKnown.signalUnit !== known.signalUnit) return;
      const { alarm } = follower;
      follower = replayed;
      follower.keepAlarm(alarm);
      recent = [...stored, ...recent];
      if (!isDeepStrictEqual(replayedKnown, known)) follower.renew(known, recent);
      if (!isSameAlarm(alarm, follower.alarm)) context.onAlarm(follower.alarm, alarm, false);
      context.onChange();
    },
    recall(alarm) {
      follower.recall(alarm);
      context.onChange();
    },
    confirmGasOff() {
      const before = follower.alarm;
      follower.confirmGasOff();
      if (before && !follower.alarm) context.onAlarm(undefined, before, true);
      context.onChange();
    },
    confirmFan(running) {
      fan = running ? createFanWatch() : undefined;
      isFanGone = false;
      context.onChange();
    },
    stop: () => clearInterval(timer),
  };
}
