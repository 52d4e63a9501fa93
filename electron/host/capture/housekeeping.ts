import { createClockWatch } from './clock-watch.ts';
import type { HostContext } from '../host-context.ts';
import { heartbeat } from '../store/captures.ts';
import { heartbeatEveryMs } from '../store/owner.ts';
import { ignoringStoreFaults } from '../store/store-fault.ts';

// Another window on the same store shows what happened here about so much later.
const lookEveryMs = 1000;

/**
 * What has to be done again and again: say that the recording is alive, notice what other processes stored and whether they record,
 * and whether the computer's clock was set.
 */
export function startHousekeeping({ store, owner, clock, recorder, storeWatch, topics }: HostContext): {
  stop(): void;
} {
  // The store may be busy, or the disk full: the recorder tells people of that, here it waits for the next time.
  const heartbeats = setInterval(() => {
    const target = recorder.target();
    if (target) ignoringStoreFaults(store.file, () => heartbeat(store.db, target.key, owner, clock.wallMs()));
  }, heartbeatEveryMs);

  // Changes when another connection has written.
  const foreignVersion = () => store.db.pragma('data_version', { simple: true });
  let seen = foreignVersion();
  const clockJump = createClockWatch(clock);
  ignoringStoreFaults(store.file, () => storeWatch.look(clock.wallMs()));
  const look = setInterval(() => {
    const jump = clockJump();
    if (jump !== undefined) recorder.mark({ elapsedS: recorder.elapsedS(), kind: 'note', text: jump });
    ignoringStoreFaults(store.file, () => {
      storeWatch.look(clock.wallMs());
      const found = foreignVersion();
      if (found === seen) return;
      seen = found;
      topics.captures.notify();
    });
  }, lookEveryMs);

  for (const timer of [heartbeats, look]) timer.unref();
  return {
    stop() {
      clearInterval(heartbeats);
      clearInterval(look);
    },
  };
}
