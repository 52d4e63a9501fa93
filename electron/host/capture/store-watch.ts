import type { Fault } from '../../../shared/model/faults.ts';
import { fault } from '../../../shared/model/faults.ts';
import type { Owner } from '../store/owner.ts';
import { recoverOrphans } from './orphans.ts';
import { otherRecordings } from '../store/owner.ts';
import type { Store } from '../store/open.ts';
import type { Topic } from '../topic.ts';

/** What people must know about what others did to the store, or do in it. */
export interface StoreWatch {
  /** Looks whether the store is where it was and who else records into it; tells the topic when that has changed. */
  look(wallMs: number): void;
  /** The capture that was recorded here is another's now; `now` is the one in which recording goes on. */
  taken(capture: string, now: string): void;
  fault(): Fault | undefined;
}

export function createStoreWatch(store: Store, owner: Owner, topic: Topic): StoreWatch {
  let shared: Fault | undefined;
  let taken: Fault | undefined;
  let gone: Fault | undefined;
  return {
    look(wallMs) {
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
    taken(capture, now) {
      taken = fault('capture-taken', { capture, now });
      topic.notify();
    },
    fault: () => gone ?? taken ?? shared,
  };
}
