import type { Alarm } from '../../../shared/burner-state/alarms.ts';
import { alarmFault } from '../../../shared/burner-state/permissions.ts';
import type { Setup } from '../../../shared/model/setup.ts';
import type { HostContext } from '../host-context.ts';
import { findRowByKey, setupOf } from '../store/read/capture-rows.ts';
import { ignoringStoreFaults } from '../store/store-fault.ts';
import { createBurnerWatch } from './burner-watch.ts';
import type { FollowedBurner } from './burner-watch.ts';
import { recordTrials } from './follow-trials.ts';

/**
 * Starts the watch of the burner for a host: it knows the setup of the capture that is being recorded, and marks in it what must not be
 * forgotten.
 *
 * @param context  the host's context, asked for only once it is complete
 */
export function watchBurner(context: () => HostContext): FollowedBurner {
  let version = -1;
  let setup: Setup = {};

  /** The setup of the capture being recorded, read again only when a capture has changed. */
  const currentSetup = (): Setup => {
    const { recorder, store, topics } = context();
    if (topics.captures.version === version) return setup;
    // While the store refuses, the setup that was read last holds.
    ignoringStoreFaults(store.file, () => {
      const target = recorder.target();
      const row = target && findRowByKey(store.db, target.key);
      setup = row ? setupOf(row) : {};
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
    onAlarm: (alarm) => (alarm ? mark(alarm.kind, alarmFault(alarm).message) : mark('gas-shut', 'The alarm is over.')),
    onNow(now, nowS, purge) {
      const { recorder, burnerHistory, topics } = context();
      const hasBegun = burnerHistory.add(now, nowS, recorder.target()?.key, recorder.elapsedS());
      if (hasBegun) topics.burner.notify();
      trials.step(now, purge);
    },
    onFanGone: () => mark('air-stopped', 'no fan-only pressure any more'),
    onChange: () => context().topics.burner.notify(),
  });
  return { ...watch, settleTrial: () => trials.settle() };
}
