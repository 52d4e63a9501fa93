import type { z } from 'zod';
import { fault } from '../model/faults.ts';
import type { Fault } from '../model/faults.ts';
import { fail, ok } from '../model/outcome.ts';
import type { Outcome } from '../model/outcome.ts';
import type { Call, Channel, Contract, Feed } from './define.ts';
import { feedCredit, FromClient, runningLimit } from './wire.ts';
import type { FromHost } from './wire.ts';

/**
 * The handlers of the contract `A`; a missing or wrong one does not compile.
 *
 * A call gives an `Outcome`. A feed yields items; the next one is requested only when the client has used
 * an earlier one, so it should make each item on request and may merge states that nobody saw. A feed that cannot
 * begin or continue for an expected reason *returns* the fault (`return fault('capture-missing', ...)`).
 * Both must end soon after `signal` fires: nobody waits for them anymore.
 */
export type Handlers<A> = {
  [K in keyof A]: A[K] extends Call<infer I, infer O>
    ? (input: z.output<I>, signal: AbortSignal) => Promise<Outcome<z.input<O>>>
    : A[K] extends Feed<infer I, infer O>
      ? (input: z.output<I>, signal: AbortSignal) => AsyncIterable<z.input<O>, Fault | void>
      : never;
};

/** Called with bugs of handlers: the name of the call, and what was thrown. Never sent to the client. */
export type BugReport = (name: string, error: unknown) => void;

type AnyCall = (input: unknown, signal: AbortSignal) => Promise<Outcome<unknown>>;
type AnyFeed = (input: unknown, signal: AbortSignal) => AsyncIterable<unknown, Fault | void>;

/** One running call or feed. */
interface Running {
  stop: AbortController;
  credit: Credit;
}

/**
 * Serves the calls and feeds of `api`, and nothing else, until the channel closes; then every one that runs is stopped.
 * Inputs and outputs are checked against the contract. Faults go to the client with code and sentence; what a handler throws
 * goes to `onBug`, and the client gets `internal`. The channel is closed when the peer does not follow the protocol (`wire.ts`).
 */
export function serve<A extends Contract>(api: A, handlers: Handlers<A>, channel: Channel, onBug: BugReport): void {
  const running = new Map<number, Running>();
  const send = (message: FromHost) => channel.post(message);

  channel.onMessage((message) => {
    const read = FromClient.safeParse(message);
    if (!read.success) return channel.close();
    const { data } = read;
    if (data.kind === 'more') return running.get(data.id)?.credit.give();
    if (data.kind === 'stop') return running.get(data.id)?.stop.abort();
    if (running.has(data.id)) return channel.close();
    return begin(data.id, data.name, data.input);
  });
  channel.onClose(() => {
    for (const { stop } of running.values()) stop.abort();
  });

  function begin(id: number, name: string, input: unknown): void {
    const entry = Object.hasOwn(api, name) ? api[name] : undefined;
    const refuse = (cause: Fault) => {
      send(entry?.kind === 'feed' ? { kind: 'end', id, fault: cause } : { kind: 'done', id, outcome: fail(cause) });
    };
    if (!entry) return refuse(fault('call-unknown', { name }));
    if (running.size >= runningLimit) return refuse(fault('too-many-calls'));
    const checked = entry.input.safeParse(input);
    if (!checked.success) return refuse(fault('input-invalid', { problems: problemsOf(checked.error) }));

    const stop = new AbortController();
    const task: Running = { stop, credit: createCredit(stop.signal) };
    running.set(id, task);
    const work =
      entry.kind === 'call'
        ? runCall(id, entry, handlers[name] as AnyCall, checked.data, task)
        : runFeed(id, entry, handlers[name] as AnyFeed, checked.data, task);
    void work
      .catch((error: unknown) => {
        if (!(stop.signal.aborted && isAbort(error))) onBug(name, error);
        if (!stop.signal.aborted) refuse(fault('internal', { what: name }));
      })
      .finally(() => running.delete(id));
  }

  async function runCall(
    id: number,
    entry: Contract[string],
    handler: AnyCall,
    input: unknown,
    { stop }: Running,
  ): Promise<void> {
    const outcome = await handler(input, stop.signal);
    const checked = outcome.ok ? ok(entry.output.parse(outcome.value)) : outcome;
    if (!stop.signal.aborted) send({ kind: 'done', id, outcome: checked });
  }

  async function runFeed(
    id: number,
    entry: Contract[string],
    handler: AnyFeed,
    input: unknown,
    { stop: { signal }, credit }: Running,
  ): Promise<void> {
    const items = handler(input, signal)[Symbol.asyncIterator]();
    try {
      while (!signal.aborted) {
        await credit.take();
        if (signal.aborted) break;
        const next = await items.next();
        if (signal.aborted) break;
        if (next.done) {
          send({ kind: 'end', id, ...(next.value && { fault: next.value }) });
          return;
        }
        send({ kind: 'item', id, item: entry.output.parse(next.value) });
      }
    } finally {
      await items.return?.();
    }
  }
}

interface Credit {
  /** Waits until one more item may be sent, or the feed is stopped. */
  take(): Promise<void>;
  give(): void;
}

/** Counts the items that may still be sent; never more than `feedCredit`, whatever a client claims to have used. */
function createCredit(signal: AbortSignal): Credit {
  let free = feedCredit;
  let wake: (() => void) | undefined;
  signal.addEventListener('abort', () => wake?.(), { once: true });
  return {
    async take() {
      if (free === 0 && !signal.aborted) await new Promise<void>((resolve) => (wake = resolve));
      free -= 1;
    },
    give() {
      free = Math.min(free + 1, feedCredit);
      wake?.();
    },
  };
}

/** The error that a handler throws when its signal fired. */
const isAbort = (error: unknown) => error instanceof Error && error.name === 'AbortError';

/** The first few problems of an input, each with its path, as part of a sentence. */
const problemsOf = (error: z.ZodError): string =>
  error.issues
    .slice(0, 5)
    .map((issue) => (issue.path.length > 0 ? `${issue.path.join('.')}: ${issue.message}` : issue.message))
    .join('; ');
