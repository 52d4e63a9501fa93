import { useSyncExternalStore } from 'react';
import { createClient, type ConnectionStatus, type Refusal } from '../api/client.ts';

/** The host of this page: the same object throughout, across lost connections. */
export const { host, connection } = createClient();

/** Calls `listener` each time a lost connection is restored: queries and feeds have to be requested again then. */
export function onReconnect(listener: () => void): () => void {
  let before = connection.status();
  return connection.subscribe(() => {
    const now = connection.status();
    if (before === 'lost' && now === 'connected') listener();
    before = now;
  });
}

/** Whether the page is connected to its host. */
export const useConnection = (): ConnectionStatus =>
  useSyncExternalStore(
    (listener) => connection.subscribe(listener),
    () => connection.status(),
  );

/** Why the host does not admit this page; undefined while it does, or does not answer. */
export const useRefusal = (): Refusal | undefined =>
  useSyncExternalStore(
    (listener) => connection.subscribe(listener),
    () => connection.refusal(),
  );
