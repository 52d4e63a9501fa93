import type { Api } from '../../../shared/contract/api.ts';
import type { Handlers } from '../../../shared/contract/serve.ts';
import type { HostContext } from '../host-context.ts';
import { watch } from '../topic.ts';

const liveEveryMs = 100;

/** Faults of the store that the technician must see at once, and how many desktop windows and browser tabs follow them. */
export function storeHandlers({ recorder, storeWatch, topics }: HostContext): Pick<Handlers<Api>, 'store.live'> {
  let windows = 0;
  return {
    'store.live': async function* (_input, signal) {
      windows += 1;
      topics.store.notify();
      try {
        yield* watch(topics.store, liveEveryMs, signal, () => {
          const fault = recorder.fault() ?? storeWatch.fault();
          return { windows, ...(fault && { fault }) };
        });
      } finally {
        windows -= 1;
        topics.store.notify();
      }
      return undefined;
    },
  };
}
