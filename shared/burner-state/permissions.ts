import type { Mark } from '../model/capture.ts';
import { type Fault, fault } from '../model/faults.ts';
import type { Alarm } from './alarms.ts';
import { meterFault } from './meters/meter-fault.ts';
import type { BurnerNow } from './tracker.ts';
import { longestUnlitSeconds, shownSeconds, unlitSeconds } from './unlit-time.ts';

/** What a permission is asked with: the tracker's word, and the alarm that is on. */
export interface BurnerSituation {
  now: BurnerNow | undefined;
  alarm: Alarm | undefined;
}

/**
 * Why the pressure must not be set, nor taken as as-found or as-left, now; undefined when it may: gas flows and a flame burns steadily.
 * Gives `flame-lost`, `gas-unlit`, `gas-was-unlit`, `gas-not-shut`, `meter-no-reading`, `meter-frozen`, `manometer-off`, `gas-shut`, `no-flame`, `flame-unsteady`, `burner-unknown`.
 */
export function settingRefusal({ now, alarm }: BurnerSituation): Fault | undefined {
  if (alarm) return alarmFault(alarm);
  if (!now) return fault('burner-unknown');
  const { gas, flame } = now.moment;
  if (now.pressureTrouble) return meterFault('manometer', now.pressureTrouble);
  if (now.signalTrouble) return meterFault('flame signal meter', now.signalTrouble);
  if (gas === 'shut' || gas === 'closing') return fault('gas-shut');
  if (flame === 'dark' || flame === 'out' || flame === 'lost' || flame === 'lighting') return fault('no-flame');
  if (flame === 'unsteady') return fault('flame-unsteady');
  if (gas !== 'flowing' || flame !== 'burning') return fault('burner-unknown');
  // What was true half a second ago may be over.
  if (now.latest.gas === 'shut' || now.latest.gas === 'closing') return fault('gas-shut');
  if (now.latest.gas === 'unknown') return fault('burner-unknown');
  return now.latest.flame === 'burning' || now.latest.flame === 'unknown' ? undefined : fault('no-flame');
}

/** Whether nothing is to be turned: an alarm is on, or the manometer is off its hose. */
export const isTurningBarred = (burner: { alarm?: unknown; pressureTrouble?: { kind: string } | undefined }): boolean =>
  burner.alarm !== undefined || burner.pressureTrouble?.kind === 'off';

/** Why no sweep begins now; undefined when one may. */
export function sweepRefusal({ now, alarm }: BurnerSituation): Fault | undefined {
  const pressureTrouble = now?.pressureTrouble;
  if (!isTurningBarred({ alarm, pressureTrouble })) return undefined;
  return alarm ? alarmFault(alarm) : pressureTrouble && meterFault('manometer', pressureTrouble);
}

/** Whether the technician may answer for it: what the meters cannot tell, or a regulator that was not turned. Never an alarm or shut gas. */
export const canBeConfirmed = (code: string): boolean =>
  code === 'burner-unknown' ||
  code === 'meter-no-reading' ||
  code === 'meter-frozen' ||
  code === 'flame-unsteady' ||
  code === 'as-found-late';

/** What `settingRefusal` gives: it holds for as long as the burner is so. */
const burnerRefusals = [
  'flame-lost',
  'flame-returned',
  'flame-unseen',
  'gas-may-flow',
  'gas-unlit',
  'gas-was-unlit',
  'gas-not-shut',
  'gas-shut',
  'no-flame',
  'flame-unsteady',
  'burner-unknown',
  'meter-no-reading',
  'meter-frozen',
  'manometer-off',
];

/** Whether a refusal that was given is over, the present one being `now`; undefined: there is none. */
export const isRefusalOver = (code: string, now: string | undefined): boolean =>
  burnerRefusals.includes(code) && code !== now;

/** The alarm in words. A flame that came back by itself is seen, and is no reason to go on. */
export function alarmFault(alarm: Alarm): Fault {
  if (alarm.interrupted) return fault('gas-was-unlit');
  const longestS = longestUnlitSeconds(alarm, alarm.unlitToS ?? alarm.sinceS);
  if (alarm.unlitToS !== undefined && alarm.kind !== 'not-shut')
    return fault('flame-returned', {
      flame: alarm.kind === 'flame-lost' ? 'is back' : 'burns now',
      dark: alarm.flameUnseen ? 'no meter showed it' : 'gas was unlit',
      seconds: shownSeconds(unlitSeconds(alarm, alarm.unlitToS)),
      ...(alarm.isLeast && { isLeast: alarm.isLeast }),
      ...(longestS !== undefined && { longest: shownSeconds(longestS) }),
    });
  if (alarm.gasUnseen) return fault('gas-may-flow');
  if (alarm.flameUnseen) return fault('flame-unseen');
  switch (alarm.kind) {
    case 'flame-lost':
      return fault('flame-lost');
    case 'gas-unlit':
      return fault('gas-unlit');
    case 'not-shut':
      return fault('gas-not-shut');
  }
}

/** So long after gas was to be shut an alarm should have ended, seconds. */
const lastsS = 10;

/**
 * What ends an alarm that outlasts the shutting of the gas; undefined before, and where the manometer reads nothing that could be entered.
 *
 * @param isFanOnlyEntered  the fan-only pressure is known: what stands above it is gas, and no reason to enter another
 */
export const lastingAlarmFault = (
  alarm: Alarm,
  nowS: number,
  { isPressureSeen, isFanOnlyEntered }: { isPressureSeen: boolean; isFanOnlyEntered: boolean },
): Fault | undefined => {
  if (!isPressureSeen || alarm.interrupted || nowS - alarm.sinceS <= lastsS) return undefined;
  return fault(isFanOnlyEntered ? 'alarm-lasts-leak' : 'alarm-lasts');
};

/** Whether the regulator has been turned since recording began, so that an as-found value would not be one: a sweep was begun. */
export const isTurned = (marks: readonly Mark[]): boolean =>
  marks.some(({ kind }) => kind === 'sweep-start' || kind === 'as-left');
