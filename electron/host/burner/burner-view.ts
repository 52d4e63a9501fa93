import { alarmFault, lastingAlarmFault, settingRefusal } from '../../../shared/burner-state/permissions.ts';
import { shownState } from '../../../shared/burner-state/shown-state.ts';
import type { BurnerNow } from '../../../shared/burner-state/tracker.ts';
import { longestUnlitSeconds, unlitSeconds } from '../../../shared/burner-state/unlit-time.ts';
import type { BurnerView } from '../../../shared/contract/api/burner.ts';
import { type BurnerFollower, mayConfirmGasOff } from './burner-follower.ts';

/**
 * What a window is told of the burner. `wantedS`: purge before a trial; `seesBoth`: both meters are sound, so that a purge can be seen;
 * `trialGas`: gas that is on is that of a trial;
 * `isFanGone`: the fan that was confirmed does not show at the gauge anymore.
 */
export function burnerView(
  follower: BurnerFollower,
  told: {
    nowMs: number;
    confirmed: boolean;
    isFanGone: boolean;
    wantedS: number;
    seesBoth: boolean;
    isFanOnlyEntered: boolean;
    trialGas: boolean;
  },
): BurnerView {
  const { now, alarm, purge } = follower;
  const nowS = told.nowMs / 1000;
  const longestS = alarm && longestUnlitSeconds(alarm, nowS);
  const refusal = settingRefusal({ now, alarm });
  const lasting =
    alarm &&
    lastingAlarmFault(alarm, nowS, {
      isPressureSeen: now !== undefined && !now.pressureTrouble,
      isFanOnlyEntered: told.isFanOnlyEntered,
    });
  const troubleOf = (trouble: BurnerNow['pressureTrouble']) =>
    trouble && {
      kind: trouble.kind,
      // A meter that never spoke has been silent since nobody knows when.
      forS: Number.isFinite(trouble.sinceS) ? Math.max(0, nowS - trouble.sinceS) : 0,
    };
  const state = now ? shownState(now) : ({ gas: 'unknown', flame: 'unknown' } as const);
  const isShut = state.gas === 'shut' || state.gas === 'closing';
  return {
    ...state,
    ...(told.trialGas && !isShut && { trialGas: true as const }),
    ...(now?.moreAir && state.gas === 'shut' && { moreAir: now.moreAir }),
    regulator: now?.moment.regulator ?? 'unknown',
    phase: now?.phase ?? 'unknown',
    probability: now?.moment.probability ?? 0,
    ...(refusal && { settingRefusal: { code: refusal.code, message: refusal.message } }),
    ...(alarm && {
      alarm: {
        kind: alarm.kind,
        count: alarm.count ?? 1,
        forS: unlitSeconds(alarm, nowS),
        ...(alarm.isLeast && { isLeast: alarm.isLeast }),
        ...(longestS !== undefined && { longestS }),
        message: alarmFault(alarm).message,
        ...(lasting && { toEnd: lasting.message }),
        ...(alarm.unlitToS !== undefined && { isLit: true as const }),
        ...(alarm.interrupted && { interrupted: alarm.interrupted }),
        ...(mayConfirmGasOff(alarm, now) && { mayConfirm: true as const }),
      },
    }),
    purge: {
      needed: purge.needed && told.seesBoth,
      purgedS: purge.purgedS,
      waitedS: purge.waitedS,
      wantedS: told.wantedS,
      ...(purge.mayHaveBurned && { mayHaveBurned: purge.mayHaveBurned }),
    },
    air: { ...follower.air(told.nowMs, told.confirmed), ...(told.isFanGone && { gone: true as const }) },
    ...(now?.pressureTrouble && { pressureTrouble: troubleOf(now.pressureTrouble) }),
    ...(now?.signalTrouble && { signalTrouble: troubleOf(now.signalTrouble) }),
  };
}

/** All that the screen shows of it, whole seconds and every word: two that are equal look the same. */
export const shownOf = (view: BurnerView): string =>
  JSON.stringify(view, (key, value: unknown) =>
    key === 'probability' ? undefined : typeof value === 'number' ? Math.floor(value) : value,
  );
