import { createClockWatch } from './clock-watch.ts';
import type { HostContext } from '../host-context.ts';
import { heartbeat } from '../store/captures.ts';
import { heartbeatEveryMs } from '../store/owner.ts';
import { ignoringStoreFaults } from '../store/store-fault.ts';

// Another program on the same store shows a change made here at most this much later.
const checkEveryMs = 1000;

/**
 * Periodic work: the heartbeat of the recording, and checks for what other processes stored, whether they record, and whether the
 * computer's clock jumped.
 */
export function startHousekeeping({ store, owner, clock, recorder, storeWatch, topics }: HostContext): {
  stop(): void;
} {
  // The store may be busy, or the disk full: the recorder reports that; here it is tried again the next time.
  const heartbeats = setInterval(() => {
    const target = recorder.target();
    if (target) ignoringStoreFaults(store.file, () => heartbeat(store.db, target.key, owner, clock.wallMs()));
  }, heartbeatEveryMs);

  // Changes when another connection has written.
  const dataVersion = () => store.db.pragma('data_version', { simple: true });
  let knownVersion: unknown;
  ignoringStoreFaults(store.file, () => void (knownVersion = dataVersion()));
  const clockJump = createClockWatch(clock);
  ignoringStoreFaults(store.file, () => storeWatch.check(clock.wallMs()));
  const checks = setInterval(() => {
    const jump = clockJump();
    if (jump !== undefined) recorder.mark({ elapsedS: recorder.elapsedS(), kind: 'note', text: jump });
    ignoringStoreFaults(store.file, () => {
      storeWatch.check(clock.wallMs());
      const version = dataVersion();
      if (version === knownVersion) return;
      knownVersion = version;
      topics.captures.notify();
    });
  }, checkEveryMs);

  for (const timer of [heartbeats, checks]) timer.unref();
  return {
    stop() {
      clearInterval(heartbeats);
      clearInterval(checks);
    },
  };
}
