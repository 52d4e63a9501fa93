import { airMoves, confirmedAir, leastFanPressure } from '../../../shared/burner-state/air.ts';
import { type AlarmKind, noAlarm, nextAlarm, type AlarmMemory } from '../../../shared/burner-state/alarms.ts';
import { knownFrom } from '../../../shared/burner-state/chain/bins.ts';
import { createTracker, type BurnerNow } from '../../../shared/burner-state/tracker.ts';
import { convertPressure, type PressureUnit } from '../../../shared/model/units.ts';
import type { Visit } from '../visit/types.ts';
import { createLiveTrials, type LiveTrials } from './live-trials.ts';
import type { Words } from './score-states.ts';

/** An alarm that was raised, seconds of the capture. */
export interface RaisedAlarm {
  kind: AlarmKind;
  fromS: number;
  toS: number;
}

/** A visit as it was followed while it was recorded: what was said of each moment, by tenths of a second, alarms and trials. */
export interface Followed {
  words: Map<number, Words>;
  alarms: RaisedAlarm[];
  trials: LiveTrials;
}

export function followLive(visit: Visit): Followed {
  const { capture, signalUnit } = visit;
  const known = knownFrom(capture.setup, signalUnit);
  const tracker = createTracker(known);
  const readings = capture.readings
    .filter(
      ({ role }) =>
        role === 'pilot_pressure' || role === 'flame_signal' || role === 'fan_pressure' || role === 'ignition',
    )
    .toSorted((a, b) => a.elapsedS - b.elapsedS);
  const words = new Map<number, Words>();
  const trials = createLiveTrials(readings, known);
  const alarms: RaisedAlarm[] = [];
  let memory: AlarmMemory = noAlarm;
  let next = 0;
  let latest: BurnerNow | undefined;
  let air: { shown: boolean; untilS: number } | undefined;
  const confirmedAt = confirmedAir(capture.marks);
  const start = readings[0]?.elapsedS ?? 0;
  const end = readings.at(-1)?.elapsedS ?? 0;
  for (let step = 1; start + step * 0.1 < end + 1; step += 1) {
    const nowS = start + step * 0.1;
    for (; next < readings.length && readings[next]!.elapsedS <= nowS; next += 1) {
      const { role, elapsedS, value, unit } = readings[next]!;
      if (role === 'fan_pressure')
        air = { shown: convertPressure(value, unit as PressureUnit, 'inH2O') > leastFanPressure, untilS: elapsedS + 2 };
      else if (role === 'pilot_pressure')
        tracker.reading(role, elapsedS, convertPressure(value, unit as PressureUnit, 'inH2O'));
      else if (role === 'flame_signal') tracker.reading(role, elapsedS, value);
    }
    const shown = air && air.shown && nowS < air.untilS;
    const now = tracker.advance(nowS, airMoves({ shown, confirmed: confirmedAt(nowS) }));
    if (!now) continue;
    latest = now;
    trials.step(now, nowS);
    words.set(Math.round(now.atS * 10), { ...now.moment, phase: now.phase });
    const before = memory.alarm;
    memory = nextAlarm(memory, { nowS, now, trialSeconds: known.trialSeconds, valveOpen: undefined });
    const { alarm } = memory;
    if (alarm && !before) alarms.push({ kind: alarm.kind, fromS: nowS, toS: nowS });
    else if (alarm) alarms.at(-1)!.toS = nowS;
  }
  if (latest) trials.stop(latest, end);
  return { words, alarms, trials };
}
