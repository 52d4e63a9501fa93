import { isDeepStrictEqual } from 'node:util';
import type { Alarm, AlarmMemory } from '../../../shared/burner-state/alarms.ts';
import { nextAlarm, noAlarm } from '../../../shared/burner-state/alarms.ts';
import type { Known } from '../../../shared/burner-state/chain/bins.ts';
import { knownFrom } from '../../../shared/burner-state/chain/bins.ts';
import { alarmWords, settingRefusal } from '../../../shared/burner-state/permissions.ts';
import type { BurnerSituation } from '../../../shared/burner-state/permissions.ts';
import { type Air, airMoves, leastFanPressure } from '../../../shared/burner-state/air.ts';
import type { PurgeClock } from '../../../shared/burner-state/purge-clock.ts';
import { nextPurgeClock, noPurge, purgeMissing } from '../../../shared/burner-state/purge-clock.ts';
import type { BurnerNow, Tracker } from '../../../shared/burner-state/tracker.ts';
import { createTracker } from '../../../shared/burner-state/tracker.ts';
import type { BurnerView } from '../../../shared/contract/api/burner.ts';
import type { Role } from '../../../shared/model/reading.ts';
import type { Setup } from '../../../shared/model/setup.ts';
import { setupDefaults } from '../../../shared/model/setup.ts';
import { convertPressure } from '../../../shared/model/units.ts';
import type { PressureUnit } from '../../../shared/model/units.ts';
import type { MeterLine } from '../acquire/meter/meter.ts';
import type { Clock } from '../clock.ts';

/** What the watch needs of the host. */
export interface BurnerWatchContext {
  clock: () => Clock;
  /** Setup of the capture that is being recorded; empty without one. The same object until it has been changed. */
  setup(): Setup;
  /** An alarm began or ended: the capture gets its mark. */
  onAlarm(alarm: Alarm | undefined): void;
  /** What the burner does now, at `nowS` of the tracker's clock; `purge`: the clock as it stood before, which gas sets back. */
  onNow(now: BurnerNow, nowS: number, purge: PurgeClock): void;
  /** The fan that the technician confirmed does not run any more: the manometer shows no fan-only pressure. */
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
  stop(): void;
}

/** The watch of a host, with the trials that it records. */
export interface FollowedBurner extends BurnerWatch {
  /** Stores a trial that is over at once: the recording ends. */
  settleTrial(): void;
}

const stepMs = 100;
/** What a wired fan or valve said stands for so long, ms: a meter that has gone says nothing of now. */
const wiredHoldsMs = 3000;
/** Shut gas below half of the fan-only pressure for so long, ms: the fan has stopped. */
const fanGoneMs = 3000;
/** Readings that are replayed when the setup says something else to the tracker, ms: a light-off and a stretch of burning teach the tracker its levels. */
const replayMs = 300_000;

interface TrackedReading {
  role: 'pilot_pressure' | 'flame_signal';
  atMs: number;
  value: number;
}

export function createBurnerWatch(context: BurnerWatchContext): BurnerWatch {
  let signalUnit = 'V';
  let setup: Setup = {};
  let known: Known = knownFrom(setup, signalUnit);
  let tracker: Tracker = createTracker(known);
  let recent: TrackedReading[] = [];
  let now: BurnerNow | undefined;
  let memory: AlarmMemory = noAlarm;
  let purge: PurgeClock = noPurge;
  let fan: { shown: boolean; atMs: number } | undefined;
  let confirmed = false;
  let belowFanSinceMs: number | undefined;
  let valve: { open: boolean; atMs: number } | undefined;
  let lastMs: number | undefined;
  let lastSaid = '';

  const air = (nowMs: number): Air => ({
    shown: fan && fan.shown && nowMs - fan.atMs <= wiredHoldsMs,
    confirmed,
  });

  /** When what the tracker is told has changed, makes a new one, which learns from what was read in the last minutes. */
  const renewTracker = () => {
    const told = knownFrom(setup, signalUnit);
    if (isDeepStrictEqual(told, known)) return;
    known = told;
    tracker = createTracker(known);
    let steppedMs = -Infinity;
    for (const { role, atMs, value } of recent) {
      tracker.reading(role, atMs / 1000, value);
      if (atMs - steppedMs < stepMs) continue;
      steppedMs = atMs;
      tracker.advance(atMs / 1000);
    }
  };

  const accept = (role: Role, unit: string, value: number, atMs: number) => {
    if (role === 'fan_pressure')
      fan = { shown: convertPressure(value, unit as PressureUnit, 'inH2O') > leastFanPressure, atMs };
    else if (role === 'pilot_valve') valve = { open: value >= 0.5, atMs };
    else if (role === 'pilot_pressure' || role === 'flame_signal') {
      const isPressure = role === 'pilot_pressure';
      if (!isPressure && unit !== signalUnit) {
        signalUnit = unit;
        recent = recent.filter((reading) => reading.role === 'pilot_pressure');
        renewTracker();
      }
      const reading = { role, atMs, value: isPressure ? convertPressure(value, unit as PressureUnit, 'inH2O') : value };
      recent.push(reading);
      tracker.reading(role, atMs / 1000, reading.value);
    }
  };

  /** Takes a confirmed fan back when the entered fan-only pressure is not there. A fan that raises no pressure cannot be told so. */
  const watchFan = (nowMs: number) => {
    const { fanOnly } = known;
    const pressure = recent.findLast(({ role }) => role === 'pilot_pressure');
    const isGone =
      confirmed &&
      fanOnly !== undefined &&
      fanOnly > leastFanPressure &&
      now?.moment.gas === 'shut' &&
      !now.pressureTrouble &&
      pressure !== undefined &&
      pressure.value < fanOnly / 2;
    belowFanSinceMs = isGone ? (belowFanSinceMs ?? nowMs) : undefined;
    if (belowFanSinceMs === undefined || nowMs - belowFanSinceMs < fanGoneMs) return;
    confirmed = false;
    context.onFanGone();
  };

  const step = () => {
    const nowMs = context.clock().monotonicMs();
    const next = context.setup();
    if (next !== setup) {
      setup = next;
      renewTracker();
    }
    if (recent[0] && recent[0].atMs < nowMs - 2 * replayMs)
      recent = recent.filter(({ atMs }) => atMs >= nowMs - replayMs);
    watchFan(nowMs);
    const seen = air(nowMs);
    now = tracker.advance(nowMs / 1000, airMoves(seen));
    if (now) {
      const before = memory.alarm;
      const valveOpen = valve && nowMs - valve.atMs <= wiredHoldsMs ? valve.open : undefined;
      memory = nextAlarm(memory, { nowS: nowMs / 1000, now, trialSeconds: known.trialSeconds, valveOpen });
      const purgeBefore = purge;
      purge = nextPurgeClock(purge, now, seen, (nowMs - (lastMs ?? nowMs)) / 1000);
      if (before?.kind !== memory.alarm?.kind) context.onAlarm(memory.alarm);
      context.onNow(now, nowMs / 1000, purgeBefore);
    }
    lastMs = nowMs;
    const said = sentence(view());
    if (said === lastSaid) return;
    lastSaid = said;
    context.onChange();
  };

  const wantedS = () => setup.purgeSeconds ?? setupDefaults.purgeSeconds;
  /** Both meters are sound: without either nobody can say that gas is shut and nothing burns. */
  const seesBoth = () => now !== undefined && !now.pressureTrouble && !now.signalTrouble;

  const view = (): BurnerView => {
    const nowS = context.clock().monotonicMs() / 1000;
    const { alarm } = memory;
    const refusal = settingRefusal({ now, alarm });
    const troubleOf = (trouble: BurnerNow['pressureTrouble']) =>
      trouble && {
        kind: trouble.kind,
        // A meter that never spoke has been silent since nobody knows when.
        forS: Number.isFinite(trouble.sinceS) ? Math.max(0, nowS - trouble.sinceS) : 0,
      };
    return {
      gas: now?.moment.gas ?? 'unknown',
      flame: now?.moment.flame ?? 'unknown',
      regulator: now?.moment.regulator ?? 'unknown',
      phase: now?.phase ?? 'unknown',
      probability: now?.moment.probability ?? 0,
      ...(refusal && { settingRefusal: { code: refusal.code, message: refusal.message } }),
      ...(alarm && {
        alarm: { kind: alarm.kind, forS: Math.max(0, nowS - alarm.sinceS), message: alarmWords(alarm, now).message },
      }),
      purge: {
        needed: purge.needed && seesBoth(),
        purgedS: purge.purgedS,
        waitedS: purge.waitedS,
        wantedS: wantedS(),
      },
      air: air(context.clock().monotonicMs()),
      ...(now?.pressureTrouble && { pressureTrouble: troubleOf(now.pressureTrouble) }),
      ...(now?.signalTrouble && { signalTrouble: troubleOf(now.signalTrouble) }),
    };
  };

  const timer = setInterval(step, stepMs);
  timer.unref();
  return {
    add(lines) {
      for (const { readings, atMs } of lines)
        for (const { role, unit, value } of readings) accept(role, unit, value, atMs);
    },
    situation: () => ({ now, alarm: memory.alarm }),
    purgeMissingS: () => (seesBoth() ? purgeMissing(purge, wantedS()) : undefined),
    view,
    confirmFan(running) {
      confirmed = running;
      context.onChange();
    },
    stop: () => clearInterval(timer),
  };
}

/** What would make a difference on the screen: whole seconds, and every word. */
const sentence = (view: BurnerView): string =>
  JSON.stringify(view, (key, value: unknown) =>
    key === 'probability' ? undefined : typeof value === 'number' ? Math.floor(value) : value,
  );
