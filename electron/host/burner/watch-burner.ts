import type { Alarm } from '../../../shared/burner-state/alarms.ts';
import { withoutFlameNow } from '../../../shared/burner-state/shown-state.ts';
import { alarmFault } from '../../../shared/burner-state/permissions.ts';
import { saidGasOff } from '../../../shared/model/said-gas-off.ts';
import type { Setup } from '../../../shared/model/setup.ts';
import type { Target } from '../acquire/record/store-writer.ts';
import type { HostContext } from '../host-context.ts';
import { addMark } from '../store/captures.ts';
import { type CaptureRow, findRowByKey, setupOf, unitsOf } from '../store/read/capture-rows.ts';
import { ignoringStoreFaults, storeFault } from '../store/store-fault.ts';
import { createBurnerWatch } from './burner-watch.ts';
import type { FollowedBurner } from './burner-watch.ts';
import { stepMs } from './burner-follower.ts';
import { recordTrials } from './follow-trials.ts';
import { interruptedGas } from './interrupted-gas.ts';
import { replayBurner } from './replay-burner.ts';

/**
 * Starts the watch of the burner for a host: it knows the setup of the capture that is being recorded, and marks in it what must not be
 * forgotten.
 *
 * @param context  the host's context, asked for only once it is complete
 */
export function watchBurner(context: () => HostContext): FollowedBurner {
  let version = -1;
  let setup: Setup = {};
  /** The capture whose gas, on when it was cut off, the present alarm is about. */
  let recalled: CaptureRow | undefined;
  let isAlarmed = false;

  /** The setup of the capture being recorded, read again only when a capture has changed. */
  const currentSetup = (): Setup => {
    const { recorder, store, topics } = context();
    if (topics.captures.version === version) return setup;
    // While the store refuses, the setup that was read last holds.
    ignoringStoreFaults(store.file, () => {
      const target = recorder.target();
      const row = target && findRowByKey(store.db, target.key);
      // Whether the gas of a recording that was cut off is shut now is told with what was known of that burner.
      const told = row ?? recalled;
      // While an alarm stands, what is known of the burner tells when its gas is shut, though the visit is finished.
      if (!told && isAlarmed) return;
      setup = told ? setupOf(told) : {};
      version = topics.captures.version;
    });
    return setup;
  };

  const mark = (kind: Alarm['kind'] | 'gas-shut' | 'air-stopped', text: string) => {
    const { recorder, topics } = context();
    if (!recorder.target()) return;
    recorder.mark({ elapsedS: recorder.elapsedS(), kind, text });
    topics.captures.notify();
  };

  const trials = recordTrials(context, currentSetup);
  const watch = createBurnerWatch({
    clock: () => context().clock,
    setup: currentSetup,
    onAlarm(alarm, before, isSaid) {
      isAlarmed = alarm !== undefined;
      if (alarm) return mark(alarm.kind, alarmFault(alarm).message);
      if (!before?.interrupted || isResumed())
        mark('gas-shut', isSaid ? `${saidGasOff}. The alarm is over.` : 'The alarm is over.');
      settleRecalled(isSaid);
    },
    onNow(now, nowS, purge) {
      const { recorder, burnerHistory, topics } = context();
      const told = trials.doubtsFlame() ? withoutFlameNow(now) : now;
      const hasBegun = burnerHistory.add(told, nowS, recorder.target()?.key, recorder.elapsedS());
      if (hasBegun) topics.burner.notify();
      return trials.step(now, purge);
    },
    doubtsFlame: () => trials.doubtsFlame(),
    onFanGone: () => mark('air-stopped', 'fan-only pressure no longer there'),
    onChange: () => context().topics.burner.notify(),
  });
  /** The recording that was cut off goes on: it has the mark of the moment at which gas was seen shut, and gas was on until then. */
  const isResumed = () => recalled !== undefined && context().recorder.target()?.key === recalled.key;
  /** Gas is off: the capture that was cut off says so at its end, and no later start asks again. */
  const settleRecalled = (isSaid: boolean) => {
    const { store, topics } = context();
    if (!recalled) return;
    const { key, duration_s: elapsedS } = recalled;
    const hasMark = isResumed();
    recalled = undefined;
    if (hasMark) return;
    ignoringStoreFaults(store.file, () =>
      addMark(store.db, key, {
        elapsedS,
        kind: 'gas-shut',
        text: `after recording was cut off${isSaid ? ', as the technician said' : ''}`,
      }),
    );
    topics.captures.notify();
  };
  const recallInterrupted = async () => {
    const found = await interruptedGas(context(), () => isStopped);
    if (!found) return;
    recalled = found.capture;
    context().topics.captures.notify();
    watch.recall(found.alarm);
  };
  let isStopped = false;
  /** Follows the burner through what was recorded before, then through what was read since, and goes on from there. */
  const catchUp = async (target: Target, untilS: number) => {
    const { store, recorder, burnerHistory, topics, clock } = context();
    const known = watch.known(unitsOf(store.db, target.key).flame_signal);
    const isOff = () => isStopped || recorder.target()?.key !== target.key;
    const replayed = await replayBurner(store, target, { untilS, known, isOff });
    if (!replayed || isOff()) return;
    const { follower, history, last } = replayed;
    burnerHistory.addEarlier(target.key, history);
    let steppedMs = -Infinity;
    for (const { role, atMs, value } of watch.recent()) {
      if (atMs <= target.zeroMs + untilS * 1000) continue;
      if (atMs - steppedMs >= stepMs) follower.step((steppedMs = atMs), false);
      follower.reading(role, atMs, value);
    }
    follower.step(clock.monotonicMs(), false);
    watch.resume(follower, known, last);
    trials.anotherTracker();
    topics.burner.notify();
    topics.captures.notify();
  };
  return {
    ...watch,
    settleTrial: () => trials.settle(),
    async catchUp(target, untilS) {
      const { store } = context();
      try {
        await catchUp(target, untilS);
      } catch (error) {
        // A store that refuses to be read leaves what was before unknown.
        if (!storeFault(error, store.file)) throw error;
      }
    },
    async recallInterrupted() {
      const { store } = context();
      try {
        await recallInterrupted();
      } catch (error) {
        if (!storeFault(error, store.file)) throw error;
      }
    },
    stop() {
      isStopped = true;
      watch.stop();
    },
  };
}
