import type { Api } from '../../../shared/contract/api.ts';
import type { Handlers } from '../../../shared/contract/serve.ts';
import type { HostContext } from '../host-context.ts';
import { watch } from '../topic.ts';

const liveEveryMs = 100;

/** Faults of the store that the technician must see at once, and how many desktop windows and browser tabs follow them. */
export function storeHandlers({ recorder, storeWatch, topics }: HostContext): Pick<Handlers<Api>, 'store.live'> {
  const followers = new Set<AbortSignal>();
  // A window that stops following and begins again, as at each change of place, is one: what has stopped may still be on its way out.
  const windows = () => [...followers].filter(({ aborted }) => !aborted).length;
  return {
    'store.live': async function* (_input, signal) {
      followers.add(signal);
      topics.store.notify();
      try {
        yield* watch(topics.store, liveEveryMs, signal, () => {
          const fault = recorder.fault() ?? storeWatch.fault();
          return { windows: windows(), ...(fault && { fault }) };
        });
      } finally {
        followers.delete(signal);
        topics.store.notify();
      }
      return undefined;
    },
  };
}
