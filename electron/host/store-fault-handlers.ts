import type { Api } from '../../shared/contract/api.ts';
import { api } from '../../shared/contract/api.ts';
import type { Handlers } from '../../shared/contract/serve.ts';
import type { Fault } from '../../shared/model/faults.ts';
import { fail } from '../../shared/model/outcome.ts';
import { storeFault } from './store/store-fault.ts';

type AnyCall = (input: unknown, signal: AbortSignal) => Promise<unknown>;
type AnyFeed = (input: unknown, signal: AbortSignal) => AsyncIterable<unknown, Fault | void>;

interface GuardedStore {
  file: string;
  /** How many lines the store has not taken yet. */
  waiting(): number;
}

/**
 * The same handlers, with what SQLite refuses (disk full, file damaged meanwhile, another writer) turned into its fault:
 * any query of any handler can meet that, and none should have to say so. Other exceptions are bugs and go on.
 */
export function withStoreFaults(handlers: Handlers<Api>, store: GuardedStore): Handlers<Api> {
  const guarded: Record<string, AnyCall | AnyFeed> = {};
  for (const [name, handler] of Object.entries(handlers)) {
    const kind = api[name as keyof Api].kind;
    guarded[name] = kind === 'call' ? guardCall(handler as AnyCall, store) : guardFeed(handler as AnyFeed, store);
  }
  return guarded as unknown as Handlers<Api>;
}

function guardCall(handler: AnyCall, store: GuardedStore): AnyCall {
  return async (input, signal) => {
    try {
      return await handler(input, signal);
    } catch (error) {
      const trouble = storeFault(error, store.file, store.waiting());
      if (trouble) return fail(trouble);
      throw error;
    }
  };
}

function guardFeed(handler: AnyFeed, store: GuardedStore): AnyFeed {
  return async function* (input, signal) {
    try {
      const items = handler(input, signal)[Symbol.asyncIterator]();
      for (;;) {
        const next = await items.next();
        if (next.done) return next.value;
        yield next.value;
      }
    } catch (error) {
      const trouble = storeFault(error, store.file, store.waiting());
      if (trouble) return trouble;
      throw error;
    }
  };
}
