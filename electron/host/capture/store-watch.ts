import type { Fault } from '../../../shared/model/faults.ts';
import { fault } from '../../../shared/model/faults.ts';
import type { Store } from '../store/open.ts';
import type { Owner } from '../store/owner.ts';
import { otherRecordings } from '../store/owner.ts';
import type { Topic } from '../topic.ts';
import { recoverOrphans } from './orphans.ts';

/** Watches what others do to the store, or record in it, for the fault that people must know. */
export interface StoreWatch {
  /** Checks whether the store is still in its place and who else records into it; notifies the topic when that has changed. `wallMs` is epoch milliseconds. */
  check(wallMs: number): void;
  /** Another host has taken over the capture that was recorded here; recording continues in the capture `now`. */
  noteTakeover(capture: string, now: string): void;
  /** `store-gone`, `capture-taken` or `store-shared`, in this order of importance. */
  fault(): Fault | undefined;
}

export function createStoreWatch(store: Store, owner: Owner, topic: Topic): StoreWatch {
  let shared: Fault | undefined;
  let takenOver: Fault | undefined;
  let gone: Fault | undefined;
  return {
    check(wallMs) {
      if (store.isGone() !== (gone !== undefined)) {
        gone = gone ? undefined : fault('store-gone', { file: store.file });
        topic.notify();
      }
      recoverOrphans(store.db, owner, wallMs);
      const [other] = otherRecordings(store.db, owner);
      const found = other && fault('store-shared', { pid: other.pid, capture: other.capture });
      if (found?.message === shared?.message) return;
      shared = found;
      topic.notify();
    },
    noteTakeover(capture, now) {
      takenOver = fault('capture-taken', { capture, now });
      topic.notify();
    },
    fault: () => gone ?? takenOver ?? shared,
  };
}
