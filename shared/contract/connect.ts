import type { z } from 'zod';
import { fault } from '../model/faults.ts';
import type { Fault } from '../model/faults.ts';
import { fail } from '../model/outcome.ts';
import type { Outcome } from '../model/outcome.ts';
import type { Call, Channel, Contract, Feed } from './define.ts';
import type { FromClient, FromHost } from './wire.ts';

/** Ends a feed; nothing is given on after it. May be called more than once. */
export type Stop = () => void;

/**
 * The contract as the one who asks sees it.
 *
 * A call: `await host['captures.get']({ capture }, signal?)` gives an `Outcome` and never rejects for an expected reason;
 * when `signal` fires the outcome is `cancelled`, when the channel is lost `host-gone`.
 *
 * A feed: `const stop = host['meters.live']({}, onItem, onEnd?)`. Items come one after the other and in order; when
 * `onItem` returns a promise the next item waits for it, and in the end the host with it. `onEnd` is told once when the
 * host ends the feed: with the fault when it could not begin or go on (`host-gone` when the channel was lost). It is not
 * told after `stop()`.
 *
 * A feed does not survive its channel. `readings.live` is taken up again without loss or repetition by asking with
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

/** What is waiting for the host, by id: hears its messages, and the end of the channel. */
type Waiting = (message: FromHost | 'gone') => void;

/** The client of `api` over one channel. Inputs and outputs are checked by the host. */
export function connect<A extends Contract>(api: A, channel: Channel): Client<A> {
  const waiting = new Map<number, Waiting>();
  let lastId = 0;
  let closed = false;
  const send = (message: FromClient) => channel.post(message);

  channel.onMessage((message) => {
    const fromHost = message as FromHost;
    waiting.get(fromHost.id)?.(fromHost);
  });
  channel.onClose(() => {
    closed = true;
    for (const hear of waiting.values()) hear('gone');
  });

  const callNamed = (name: string) => (input: unknown, signal?: AbortSignal) =>
    new Promise<Outcome<unknown>>((resolve) => {
      if (closed) return resolve(fail(fault('host-gone')));
      if (signal?.aborted) return resolve(fail(fault('cancelled')));
      const id = (lastId += 1);
      const settle = (outcome: Outcome<unknown>) => {
        waiting.delete(id);
        signal?.removeEventListener('abort', cancel);
        resolve(outcome);
      };
      const cancel = () => {
        send({ kind: 'stop', id });
        settle(fail(fault('cancelled')));
      };
      waiting.set(id, (message) => {
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
      // `arrived` is never longer than the window that the host keeps to.
      const arrived: unknown[] = [];
      const state: { busy: boolean; stopped: boolean; end?: { fault: Fault | undefined } } = {
        busy: false,
        stopped: false,
      };

      const hear: Waiting = (message) => {
        if (message === 'gone') state.end = { fault: fault('host-gone') };
        else if (message.kind === 'item') arrived.push(message.item);
        else if (message.kind === 'end') state.end = { fault: message.fault };
        // The host answers a name it does not know as a call.
        else if (!message.outcome.ok) state.end = { fault: message.outcome.fault };
        if (state.end) waiting.delete(id);
        if (!state.busy) void useArrived();
      };

      async function useArrived(): Promise<void> {
        state.busy = true;
        while (!state.stopped && arrived.length > 0) {
          try {
            await onItem(arrived.shift());
          } catch (error) {
            // A bug of the reader: told as every other uncaught one, and the feed goes on.
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
        waiting.delete(id);
      };
      // Told later, never before the caller has its `stop`.
      if (closed) {
        void Promise.resolve().then(() => hear('gone'));
        return stop;
      }
      waiting.set(id, hear);
      const refused = send({ kind: 'ask', id, name, input });
      if (refused) void Promise.resolve().then(() => hear({ kind: 'end', id, fault: refused }));
      return stop;
    };

  const named = Object.entries(api).map(([name, entry]) => [
    name,
    entry.kind === 'call' ? callNamed(name) : feedNamed(name),
  ]);
  return Object.fromEntries(named) as Client<A>;
}
