import type { BurnerView, MeterState } from '../../../shared/contract/api.ts';
import { alarmFault } from '../../../shared/burner-state/permissions.ts';
import { fault } from '../../../shared/model/faults.ts';

/**
 * What is left of the host's word once the connection to it is lost: nothing of what the burner does now. An alarm stays; nobody has said
 * that gas is shut.
 *
 * @param lostMs  since when, ms
 */
export function withoutHost(burner: BurnerView, lostMs: number): BurnerView {
  const { code, message } = fault('burner-unknown');
  const { alarm, trialGas: _, ...rest } = burner;
  return {
    ...rest,
    gas: 'unknown',
    flame: 'unknown',
    regulator: 'unknown',
    phase: 'unknown',
    probability: 0,
    settingRefusal: { code, message },
    ...(alarm && { alarm: later(darkAlarm(alarm), lostMs / 1000) }),
  };
}

const later = (alarm: NonNullable<BurnerView['alarm']>, seconds: number): NonNullable<BurnerView['alarm']> => ({
  ...alarm,
  forS: alarm.forS + seconds,
  ...(alarm.longestS !== undefined && { longestS: alarm.longestS + seconds }),
});

/** Nobody sees anymore that a flame which came back still burns. */
function darkAlarm({ isLit, ...alarm }: NonNullable<BurnerView['alarm']>): NonNullable<BurnerView['alarm']> {
  return isLit ? { ...alarm, message: alarmFault({ kind: alarm.kind, sinceS: 0 }).message } : alarm;
}

/** The meters once the connection is lost, `lostMs` ago: no number of theirs is that of now, and each has its age. */
export const metersWithoutHost = (meters: readonly MeterState[], lostMs: number): MeterState[] =>
  meters.map((meter) => ({
    ...meter,
    status: 'silent',
    linesPerSecond: 0,
    recentLines: [],
    latest: meter.latest.map((latest) => ({ ...latest, ageMs: latest.ageMs + lostMs })),
  }));
