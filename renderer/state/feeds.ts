import { useCallback, useSyncExternalStore } from 'react';
import type { z } from 'zod';
import type { Api } from '../../shared/contract/api.ts';
import type { Fault } from '../../shared/model/faults.ts';
import { host, onReconnect } from './connection.ts';

export type FeedName = { [K in keyof Api]: Api[K]['kind'] extends 'feed' ? K : never }[keyof Api];
export type FeedItem<N extends FeedName> = z.output<Api[N]['output']>;
type FeedInput<N extends FeedName> = z.input<Api[N]['input']>;

interface Entry {
  item: unknown;
  fault: Fault | undefined;
  listeners: Set<() => void>;
  stop: () => void;
}

/** One subscription at the host for each feed and input, however many components use it. */
const entries = new Map<string, Entry>();

/**
 * Subscribes to a feed, and again after each lost connection. `onEnd` gets the fault when the host ends the feed for a
 * reason of its own; a lost connection is not reported here, it has a banner of its own.
 */
export function subscribe<N extends FeedName>(
  name: N,
  input: () => FeedInput<N>,
  onItem: (item: FeedItem<N>) => void,
  onEnd: (fault: Fault | undefined) => void,
): () => void {
  type Feed = (
    input: FeedInput<N>,
    onItem: (item: FeedItem<N>) => void,
    onEnd: (fault: Fault | undefined) => void,
  ) => () => void;
  const begin = () =>
    (host[name] as unknown as Feed)(input(), onItem, (fault) => {
      if (fault?.code !== 'host-gone') onEnd(fault);
    });
  let stop = begin();
  const removeListener = onReconnect(() => {
    stop();
    stop = begin();
  });
  return () => {
    removeListener();
    stop();
  };
}

function open<N extends FeedName>(key: string, name: N, input: FeedInput<N>): Entry {
  const entry: Entry = { item: undefined, fault: undefined, listeners: new Set(), stop: () => {} };
  const notify = () => entry.listeners.forEach((listener) => listener());
  entries.set(key, entry);
  entry.stop = subscribe(
    name,
    () => input,
    (item) => {
      entry.item = item;
      entry.fault = undefined;
      notify();
    },
    (fault) => {
      entry.fault = fault;
      notify();
    },
  );
  return entry;
}

/**
 * Lets a listener hear of each new item of a feed, in one subscription for all of the same key; ends with what is returned.
 *
 * @param key  `keyOf` the feed and its input
 */
export function listen(key: string, name: FeedName, listener: () => void): () => void {
  const kept = entries.get(key);
  // One that the host has ended is asked for again, unless somebody still shows why.
  const isKept = kept && (!kept.fault || kept.listeners.size > 0);
  const entry = isKept ? kept : open(key, name, JSON.parse(key.slice(name.length + 1)) as FeedInput<FeedName>);
  entry.listeners.add(listener);
  return () => {
    entry.listeners.delete(listener);
    // A change of place takes a component away and puts the same one up: it finds the last item, not an empty feed.
    setTimeout(() => {
      if (entry.listeners.size > 0 || entries.get(key) !== entry) return;
      entry.stop();
      entries.delete(key);
    });
  };
}

export const keyOf = (name: FeedName, input: FeedInput<FeedName>): string => `${name} ${JSON.stringify(input)}`;
/** The newest item of a feed that is listened to; undefined before the first. */
export const newestItem = (key: string): unknown => entries.get(key)?.item;

/** The newest item of a feed; undefined before the first. `input` undefined: not subscribed. */
export function useFeed<N extends FeedName>(name: N, input: FeedInput<N> | undefined): FeedItem<N> | undefined {
  const key = input === undefined ? '' : keyOf(name, input);
  const attach = useCallback(
    (listener: () => void) => (key === '' ? () => {} : listen(key, name, listener)),
    [key, name],
  );
  return useSyncExternalStore(attach, () => newestItem(key) as FeedItem<N> | undefined);
}
