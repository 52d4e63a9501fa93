import { useSyncExternalStore } from 'react';
import { createClient, type ConnectionStatus } from '../api/client.ts';

/** The host of this page: the same object throughout, across lost connections. */
export const { host, connection } = createClient();

/** Calls `listener` each time a lost host was found again: what was being shown or followed is to be asked for anew. */
export function onFoundAgain(listener: () => void): () => void {
  let before = connection.status();
  return connection.subscribe(() => {
    const now = connection.status();
    if (before === 'lost' && now === 'connected') listener();
    before = now;
  });
}

/** Whether the host is there. */
export const useConnection = (): ConnectionStatus =>
  useSyncExternalStore(
    (listener) => connection.subscribe(listener),
    () => connection.status(),
  );
