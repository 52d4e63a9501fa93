import { z } from 'zod';
import { api } from '../../shared/contract/api.ts';
import type { Api } from '../../shared/contract/api.ts';
import { connect } from '../../shared/contract/connect.ts';
import type { Client } from '../../shared/contract/connect.ts';
import type { Channel } from '../../shared/contract/define.ts';
import { fault } from '../../shared/model/faults.ts';
import { fail } from '../../shared/model/outcome.ts';
import { openChannel } from './open-channel.ts';

// The page may not make code from text; zod would try to, and the browser would complain of it.
z.config({ jitless: true });

/** `connecting` until the first attempt has ended, then `connected` or `lost`; a lost connection is tried again for ever. */
export type ConnectionStatus = 'connecting' | 'connected' | 'lost';

/** Fits `useSyncExternalStore(connection.subscribe, connection.status)`. */
export interface Connection {
  status(): ConnectionStatus;
  /** Tells each change of the status until the function it gives is called. */
  subscribe(listener: () => void): () => void;
}

// Quick at first, since a reloaded window finds its host at once; then often enough that nobody reaches for the mouse.
const retryAfterMs = [100, 250, 500, 1000, 2000];

/**
 * The host as this page sees it, across lost connections. `host` stays the same object throughout: what is asked while the
 * page connects for the first time waits for that; while the connection is lost, calls answer `host-gone`, and feeds end with it.
 *
 * Nothing is repeated by itself. When `connection` becomes `connected` again, whoever shows something asks for it again, and
 * whoever follows a feed begins it again: `readings.live` with `after` = `upTo` of the last batch it has, so that no reading
 * is missed or seen twice; every other feed begins with the present state. What the page has meanwhile stays in view.
 */
export function createClient(open: () => Promise<Channel | undefined> = openChannel): {
  host: Client<Api>;
  connection: Connection;
} {
  const listeners = new Set<() => void>();
  let status: ConnectionStatus = 'connecting';
  let failures = 0;
  let client: Client<Api> | undefined;
  const become = (next: ConnectionStatus) => {
    if (next === status) return;
    status = next;
    for (const listener of listeners) listener();
  };

  async function attempt(): Promise<void> {
    const channel = await open();
    if (!channel) return tryAgain();
    failures = 0;
    client = connect(api, channel);
    become('connected');
    channel.onClose(tryAgain);
  }
  function tryAgain(): void {
    client = undefined;
    become('lost');
    const wait = retryAfterMs[Math.min(failures, retryAfterMs.length - 1)];
    failures += 1;
    setTimeout(() => void attempt(), wait);
  }

  const firstAttempt = attempt();
  return { host: throughPresent(() => client, firstAttempt), connection: connectionOf() };

  function connectionOf(): Connection {
    return {
      status: () => status,
      subscribe: (listener) => {
        listeners.add(listener);
        return () => listeners.delete(listener);
      },
    };
  }
}

type AnyCall = (input: unknown, signal?: AbortSignal) => Promise<unknown>;
type AnyFeed = (input: unknown, onItem: unknown, onEnd?: (why: unknown) => void) => () => void;

/** A client that hands everything to the present one, once the first attempt to have one has ended. */
function throughPresent(present: () => Client<Api> | undefined, firstAttempt: Promise<void>): Client<Api> {
  const callNamed =
    (name: keyof Api): AnyCall =>
    async (...asked) => {
      if (!present()) await firstAttempt;
      return (present()?.[name] as AnyCall | undefined)?.(...asked) ?? fail(fault('host-gone'));
    };
  const feedNamed =
    (name: keyof Api): AnyFeed =>
    (input, onItem, onEnd) => {
      let stop: (() => void) | undefined;
      let stopped = false;
      const begin = () => {
        if (stopped) return;
        const feed = present()?.[name] as AnyFeed | undefined;
        if (feed) stop = feed(input, onItem, onEnd);
        else onEnd?.(fault('host-gone'));
      };
      if (present()) begin();
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
