import { z } from 'zod';
import { api } from '../../shared/contract/api.ts';
import type { Api } from '../../shared/contract/api.ts';
import { connect } from '../../shared/contract/connect.ts';
import type { Client } from '../../shared/contract/connect.ts';
import { fault } from '../../shared/model/faults.ts';
import { fail } from '../../shared/model/outcome.ts';
import type { Entered } from './enter-workbench.ts';
import { openChannel } from './open-channel.ts';

// The content security policy forbids code made from text; zod would try it, and the browser would log an error.
z.config({ jitless: true });

/** `connecting` until the first attempt has ended, then `connected` or `lost`; a lost connection is retried forever. */
export type ConnectionStatus = 'connecting' | 'connected' | 'lost';

/** Why the host does not admit this page: its address was used before or never counted, or the host was restarted meanwhile. */
export type Refusal = 'address-used' | 'restarted';

/** Fits `useSyncExternalStore(connection.subscribe, connection.status)`, and `connection.refusal` alike. */
export interface Connection {
  status(): ConnectionStatus;
  /** While the connection is lost: whether the host answered the last attempt with a refusal. */
  refusal(): Refusal | undefined;
  /** Calls `listener` on each change of the status or the refusal until the returned function is called. */
  subscribe(listener: () => void): () => void;
}

// Quick at first, since a reloaded page finds its host at once; then often enough that nobody has to reload by hand.
const retryAfterMs = [100, 250, 500, 1000, 2000];

/**
 * The host as this page sees it, across lost connections. `host` stays the same object throughout. A call made while the
 * page connects for the first time waits for the connection; while the connection is lost, calls give `host-gone`, and feeds
 * end with it.
 *
 * Nothing is repeated automatically. When `connection` becomes `connected` again, the caller requests again what it shows and
 * subscribes again to its feeds: to `readings.live` with `after` = `upTo` of its last batch, so that no reading is missed or
 * seen twice; every other feed begins with the present state. What the page has meanwhile stays in view.
 */
export function createClient(open: () => Promise<Entered> = openChannel): {
  host: Client<Api>;
  connection: Connection;
} {
  const listeners = new Set<() => void>();
  let status: ConnectionStatus = 'connecting';
  let failures = 0;
  let client: Client<Api> | undefined;
  let refusal: Refusal | undefined;
  let wasConnected = false;
  const become = (next: ConnectionStatus, nextRefusal?: Refusal) => {
    if (next === status && nextRefusal === refusal) return;
    status = next;
    refusal = nextRefusal;
    for (const listener of listeners) listener();
  };

  async function attempt(): Promise<void> {
    const channel = await open();
    if (!channel) return retry();
    // A window of this browser that is opened with the new address brings a new token for this one, too.
    if (channel === 'refused') return retry(wasConnected ? 'restarted' : 'address-used');
    failures = 0;
    wasConnected = true;
    client = connect(api, channel);
    become('connected');
    channel.onClose(() => retry());
  }
  function retry(why?: Refusal): void {
    client = undefined;
    become('lost', why);
    const wait = retryAfterMs[Math.min(failures, retryAfterMs.length - 1)];
    failures += 1;
    setTimeout(() => void attempt(), wait);
  }

  const firstAttempt = attempt();
  return { host: reconnectingClient(() => client, firstAttempt), connection: connectionStatus() };

  function connectionStatus(): Connection {
    return {
      status: () => status,
      refusal: () => refusal,
      subscribe: (listener) => {
        listeners.add(listener);
        return () => listeners.delete(listener);
      },
    };
  }
}

type AnyCall = (input: unknown, signal?: AbortSignal) => Promise<unknown>;
type AnyFeed = (input: unknown, onItem: unknown, onEnd?: (why: unknown) => void) => () => void;

/** A client that passes everything to the current one, once the first attempt to connect has ended. */
function reconnectingClient(current: () => Client<Api> | undefined, firstAttempt: Promise<void>): Client<Api> {
  const callNamed =
    (name: keyof Api): AnyCall =>
    async (...input) => {
      if (!current()) await firstAttempt;
      return (current()?.[name] as AnyCall | undefined)?.(...input) ?? fail(fault('host-gone'));
    };
  const feedNamed =
    (name: keyof Api): AnyFeed =>
    (input, onItem, onEnd) => {
      let stop: (() => void) | undefined;
      let stopped = false;
      const begin = () => {
        if (stopped) return;
        const feed = current()?.[name] as AnyFeed | undefined;
        if (feed) stop = feed(input, onItem, onEnd);
        else onEnd?.(fault('host-gone'));
      };
      if (current()) begin();
      else void firstAttempt.then(begin);
      return () => {
        stopped = true;
        stop?.();
      };
    };
  const names = Object.keys(api) as (keyof Api)[];
  return Object.fromEntries(
    names.map((name) => [name, api[name].kind === 'call' ? callNamed(name) : feedNamed(name)]),
  ) as unknown as Client<Api>;
}
