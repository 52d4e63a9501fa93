import { useMemo } from 'react';
import type { BurnerView } from '../../../shared/contract/api.ts';
import { useConnection } from '../connection.ts';
import { useFeed } from '../feeds.ts';
import { withoutHost } from './without-host.ts';

/** What the burner does, as the host's tracker says; undefined until the host has said so, unknown while the connection is lost. */
export function useBurnerState(): BurnerView | undefined {
  const burner = useFeed('burner.live', {});
  const isLost = useConnection() === 'lost';
  return useMemo(() => (burner && isLost ? withoutHost(burner) : burner), [burner, isLost]);
}
