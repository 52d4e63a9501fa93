import type { z } from 'zod';
import { fault } from '../model/faults.ts';
import type { Fault } from '../model/faults.ts';
import { fail } from '../model/outcome.ts';
import type { Outcome } from '../model/outcome.ts';
import type { Call, Channel, Contract, Feed } from './define.ts';
import type { FromClient, FromHost } from './wire.ts';

/** Ends a feed; no item is delivered after it. May be called more than once. */
export type Stop = () => void;

/**
 * The contract as the client sees it.
 *
 * A call: `await host['captures.get']({ capture }, signal?)` gives an `Outcome` and never rejects for an expected reason;
 * when `signal` fires it fails with `cancelled`, when the channel is lost with `host-gone`.
 *
 * A feed: `const stop = host['meters.live']({}, onItem, onEnd?)`. Items come one after the other and in order; when
 * `onItem` returns a promise, the next item waits for it, and eventually the host does. `onEnd` is called once when the
 * host ends the feed: with the fault when it could not begin or continue (`host-gone` when the channel was lost). It is not
 * called after `stop()`.
 *
 * A feed does not survive its channel. `readings.live` is resumed without loss or repetition by a new feed with
 * `after` = `upTo` of the last batch that was used; every other feed begins with the present state.
 */
export type Client<A> = {
  [K in keyof A]: A[K] extends Call<infer I, infer O>
    ? (input: z.input<I>, signal?: AbortSignal) => Promise<Outcome<z.output<O>>>
    : A[K] extends Feed<infer I, infer O>
      ? (
          input: z.input<I>,
          onItem: (item: z.output<O>) => void | Promise<void>,
          onEnd?: (fault: Fault | undefined) => void,
        ) => Stop
      : never;
};

/** Handles the host's messages for one call or feed, and the end of the channel. */
type MessageHandler = (message: FromHost | 'gone') => void;

/** The client of `api` over one channel. Inputs and outputs are checked by the host. */
export function connect<A extends Contract>(api: A, channel: Channel): Client<A> {
  /** By id of the call or feed. */
  const handlers = new Map<number, MessageHandler>();
  let lastId = 0;
  let closed = false;
  const send = (message: FromClient) => channel.post(message);

  channel.onMessage((message) => {
    const fromHost = message as FromHost;
    handlers.get(fromHost.id)?.(fromHost);
  });
  channel.onClose(() => {
    closed = true;
    for (const handle of handlers.values()) handle('gone');
  });

  const callNamed = (name: string) => (input: unknown, signal?: AbortSignal) =>
    new Promise<Outcome<unknown>>((resolve) => {
      if (closed) return resolve(fail(fault('host-gone')));
      if (signal?.aborted) return resolve(fail(fault('cancelled')));
      const id = (lastId += 1);
      const settle = (outcome: Outcome<unknown>) => {
        handlers.delete(id);
        signal?.removeEventListener('abort', cancel);
        resolve(outcome);
      };
      const cancel = () => {
        send({ kind: 'stop', id });
        settle(fail(fault('cancelled')));
      };
      handlers.set(id, (message) => {
        if (message === 'gone') settle(fail(fault('host-gone')));
        else if (message.kind === 'done') settle(message.outcome);
      });
      signal?.addEventListener('abort', cancel, { once: true });
      const refused = send({ kind: 'ask', id, name, input });
      if (refused) settle(fail(refused));
    });

  const feedNamed =
    (name: string) =>
    (
      input: unknown,
      onItem: (item: unknown) => void | Promise<void>,
      onEnd?: (fault: Fault | undefined) => void,
    ): Stop => {
      const id = (lastId += 1);
      // Never longer than the host's limit of unused items (`feedCredit`).
      const items: unknown[] = [];
      const state: { busy: boolean; stopped: boolean; end?: { fault: Fault | undefined } } = {
        busy: false,
        stopped: false,
      };

      const handle: MessageHandler = (message) => {
        if (message === 'gone') state.end = { fault: fault('host-gone') };
        else if (message.kind === 'item') items.push(message.item);
        else if (message.kind === 'end') state.end = { fault: message.fault };
        // The host answers an unknown name as a call.
        else if (!message.outcome.ok) state.end = { fault: message.outcome.fault };
        if (state.end) handlers.delete(id);
        if (!state.busy) void deliver();
      };

      async function deliver(): Promise<void> {
        state.busy = true;
        while (!state.stopped && items.length > 0) {
          try {
            await onItem(items.shift());
          } catch (error) {
            // A bug in `onItem`: reported like any other unhandled rejection, and the feed continues.
            void Promise.reject(error);
          }
          if (!state.stopped && !state.end) send({ kind: 'more', id });
        }
        state.busy = false;
        if (state.stopped || !state.end) return;
        state.stopped = true;
        onEnd?.(state.end.fault);
      }

      const stop = () => {
        if (!state.stopped && !state.end) send({ kind: 'stop', id });
        state.stopped = true;
        handlers.delete(id);
      };
      // Asynchronously, so that the caller has its `stop` before.
      if (closed) {
        void Promise.resolve().then(() => handle('gone'));
        return stop;
      }
      handlers.set(id, handle);
      const refused = send({ kind: 'ask', id, name, input });
      if (refused) void Promise.resolve().then(() => handle({ kind: 'end', id, fault: refused }));
      return stop;
    };

  const named = Object.entries(api).map(([name, entry]) => [
    name,
    entry.kind === 'call' ? callNamed(name) : feedNamed(name),
  ]);
  return Object.fromEntries(named) as Client<A>;
}
