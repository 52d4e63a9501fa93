import { useEffect, useState, useSyncExternalStore } from 'react';
import { appOrigin } from '../../shared/contract/endpoints.ts';
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

const askAgainMs = 2000;
const forbidden = 403;

/** Whether a program that is not this page's answers at its address: it was started anew, and its key is another. */
export function useIsTurnedAway(): boolean {
  const isLost = useConnection() === 'lost';
  const [isTurnedAway, setTurnedAway] = useState(false);
  useEffect(() => {
    if (!isLost || location.href.startsWith(`${appOrigin}/`)) return;
    const look = async () => {
      const answer = await fetch('/', { method: 'HEAD', cache: 'no-store' }).catch(() => undefined);
      setTurnedAway(answer?.status === forbidden);
    };
    const timer = setInterval(() => void look(), askAgainMs);
    return () => clearInterval(timer);
  }, [isLost]);
  return isLost && isTurnedAway;
}
