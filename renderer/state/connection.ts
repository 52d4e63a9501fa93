import { useEffect, useState, useSyncExternalStore } from 'react';
import { appOrigin } from '../../shared/contract/endpoints.ts';
import { createClient, type ConnectionStatus } from '../api/client.ts';

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

const checkEveryMs = 2000;
const forbidden = 403;

/** Whether the host now refuses this page's access key: Pilot Bench was restarted and has a new one. */
export function useIsKeyRefused(): boolean {
  const isLost = useConnection() === 'lost';
  const [isRefused, setRefused] = useState(false);
  useEffect(() => {
    if (!isLost || location.href.startsWith(`${appOrigin}/`)) return;
    const check = async () => {
      const answer = await fetch('/', { method: 'HEAD', cache: 'no-store' }).catch(() => undefined);
      setRefused(answer?.status === forbidden);
    };
    const timer = setInterval(() => void check(), checkEveryMs);
    return () => clearInterval(timer);
  }, [isLost]);
  return isLost && isRefused;
}
