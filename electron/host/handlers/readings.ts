import type { Api } from '../../../shared/contract/api.ts';
import type { Handlers } from '../../../shared/contract/serve.ts';
import type { HostContext } from '../host-context.ts';
import { readBatch } from '../store/read/read-batch.ts';
import { captureRow } from '../capture/lifecycle-rows.ts';

export function readingHandlers(context: HostContext): Pick<Handlers<Api>, 'readings.live'> {
  const { store, topics } = context;
  return {
    /** Reads the store, not the ports: what is shown is what is stored, and a slow consumer gets larger batches, not fewer readings. */
    'readings.live': async function* ({ capture, after }, signal) {
      const found = captureRow(context, capture);
      if (!found.ok) return found.fault;
      let upTo = after;
      while (!signal.aborted) {
        const { version } = topics.captures;
        const batch = readBatch(store.db, found.value.key, upTo);
        if (batch) {
          upTo = batch.upTo;
          yield batch;
        } else {
          await topics.captures.changedSince(version, signal);
        }
      }
      return undefined;
    },
  };
}
