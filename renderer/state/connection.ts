import { useEffect, useState, useSyncExternalStore } from 'react';
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

/** When the connection was lost, by the clock of this page, ms; undefined while it is not. */
let lostAtMs: number | undefined;
connection.subscribe(() => {
  lostAtMs = connection.status() === 'lost' ? (lostAtMs ?? performance.now()) : undefined;
});

/** Whole seconds since the connection was lost, in ms, as they pass; undefined while it is not. */
export function useLostMs(): number | undefined {
  const isLost = useConnection() === 'lost';
  const [lostMs, setLostMs] = useState(0);
  useEffect(() => {
    if (!isLost) return undefined;
    const tick = () => setLostMs(Math.floor((performance.now() - (lostAtMs ?? performance.now())) / 1000) * 1000);
    tick();
    const timer = setInterval(tick, 1000);
    return () => clearInterval(timer);
  }, [isLost]);
  return isLost ? lostMs : undefined;
}

/** Why the host does not admit this page; undefined while it does, or does not answer. */
export const useRefusal = (): Refusal | undefined =>
  useSyncExternalStore(
    (listener) => connection.subscribe(listener),
    () => connection.refusal(),
  );
