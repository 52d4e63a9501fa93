import type { Alarm, AlarmKind, AlarmMemory } from '../../shared/burner-state/alarms.ts';
import { nextAlarm, noAlarm } from '../../shared/burner-state/alarms.ts';
import type { Known } from '../../shared/burner-state/chain/bins.ts';
import { type BurnerNow, createTracker } from '../../shared/burner-state/tracker.ts';
import type { Capture } from '../../shared/model/capture.ts';
import type { Reading, Role } from '../../shared/model/reading.ts';

/** Curves of both meters over seconds: inH2O and volts. undefined: the meter is silent; NaN: it says overload. */
export interface Story {
  seconds: number;
  pressure: (t: number) => number | undefined;
  signal: (t: number) => number | undefined;
  startS?: number;
}

/** Small even dither of a sound meter, a fifth of a hundredth at most; no random numbers, so that each reading can be followed by hand. */
const dither = (i: number): number => [0, 1, -1, 2, 0, -2, 1, -1][i % 8]! * 0.001;

/** Readings of both meters at five a second. The signal's dither is five times that of the pressure. */
export function readingsOf({ seconds, pressure, signal, startS = 0 }: Story): Reading[] {
  const readings: Reading[] = [];
  const add = (role: Role, unit: Reading['unit'], t: number, value: number | undefined) => {
    if (value !== undefined) readings.push({ role, unit, elapsedS: startS + t, value, raw: String(value) });
  };
  for (let i = 0; i < seconds * 5; i += 1) {
    const t = i / 5;
    const p = pressure(t);
    const s = signal(t + 0.1);
    add('pilot_pressure', 'inH2O', t, p === undefined ? p : p + dither(i));
    add('flame_signal', 'V', t + 0.1, s === undefined ? s : s + 5 * dither(i + 3));
  }
  return readings;
}

export const captureOf = (readings: Reading[]): Capture =>
  ({ readings, marks: [], trials: [], setup: {} }) as unknown as Capture;

/** What a quantity does after `at`: on its way to `level` with a time constant. */
export const towards = (before: number, level: number, tau: number, t: number, at: number): number =>
  t < at ? before : level + (before - level) * Math.exp(-(t - at) / tau);

/** A plain visit's beginning: gas shut at 0.2 inH2O, opened at 10 s to 3 inH2O, lit at 11 s to 5 V. */
export const openedAt10 = (t: number): number => towards(0.2, 3, 0.15, t, 10);
export const litAt11 = (t: number): number => towards(0.02, 5, 0.6, t, 11);

export interface Live {
  nowS: number;
  now: BurnerNow;
  alarm: AlarmKind | undefined;
  /** The alarm with all that is known of it. */
  raised: Alarm | undefined;
}

/** Follows readings live, ten times a second; `valveOpen` where the valve is wired. */
export function follow(
  readings: readonly Reading[],
  untilS: number,
  valveOpen: (nowS: number) => boolean | undefined = () => undefined,
  known: Known = { signalUnit: 'V', trialSeconds: 10 },
): Live[] {
  const tracker = createTracker(known);
  const told: Live[] = [];
  let memory: AlarmMemory = noAlarm;
  let next = 0;
  const startS = readings[0]!.elapsedS;
  for (let step = 1; step <= untilS * 10; step += 1) {
    const nowS = startS + step / 10;
    for (; next < readings.length && readings[next]!.elapsedS <= nowS; next += 1) {
      const { role, elapsedS, value } = readings[next]!;
      tracker.reading(role as 'pilot_pressure' | 'flame_signal', elapsedS, value);
    }
    const now = tracker.advance(nowS);
    if (!now) continue;
    memory = nextAlarm(memory, { nowS, now, trialSeconds: known.trialSeconds, valveOpen: valveOpen(nowS) });
    told.push({ nowS, now, alarm: memory.alarm?.kind, raised: memory.alarm });
  }
  return told;
}

/** What was told at a time of the capture. */
export const at = (told: readonly Live[], s: number): Live => told.find(({ nowS }) => nowS >= s - 1e-6)!;
