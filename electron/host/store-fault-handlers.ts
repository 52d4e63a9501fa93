import type { Api } from '../../shared/contract/api.ts';
import { api } from '../../shared/contract/api.ts';
import type { Handlers } from '../../shared/contract/serve.ts';
import type { Fault } from '../../shared/model/faults.ts';
import { fail } from '../../shared/model/outcome.ts';
import { storeFault } from './store/store-fault.ts';

type AnyCall = (input: unknown, signal: AbortSignal) => Promise<unknown>;
type AnyFeed = (input: unknown, signal: AbortSignal) => AsyncIterable<unknown, Fault | void>;

interface StoreInfo {
  file: string;
  /** How many lines the store has not taken yet. */
  pendingCount(): number;
}

/**
 * The same handlers, with SQLite's refusals (disk full, file damaged meanwhile, another writer) turned into faults: any query of any
 * handler can be refused, and none should have to handle that itself. Other exceptions are bugs and are thrown on.
 */
export function withStoreFaults(handlers: Handlers<Api>, store: StoreInfo): Handlers<Api> {
  const wrapped: Record<string, AnyCall | AnyFeed> = {};
  for (const [name, handler] of Object.entries(handlers)) {
    const kind = api[name as keyof Api].kind;
    wrapped[name] = kind === 'call' ? wrapCall(handler as AnyCall, store) : wrapFeed(handler as AnyFeed, store);
  }
  return wrapped as unknown as Handlers<Api>;
}

function wrapCall(handler: AnyCall, store: StoreInfo): AnyCall {
  return async (input, signal) => {
    try {
      return await handler(input, signal);
    } catch (error) {
      const refusal = storeFault(error, store.file, store.pendingCount());
      if (refusal) return fail(refusal);
      throw error;
    }
  };
}

function wrapFeed(handler: AnyFeed, store: StoreInfo): AnyFeed {
  return async function* (input, signal) {
    try {
      const items = handler(input, signal)[Symbol.asyncIterator]();
      for (;;) {
        const next = await items.next();
        if (next.done) return next.value;
        yield next.value;
      }
    } catch (error) {
      const refusal = storeFault(error, store.file, store.pendingCount());
      if (refusal) return refusal;
      throw error;
    }
  };
}
