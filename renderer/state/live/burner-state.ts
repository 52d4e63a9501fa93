import { useMemo } from 'react';
import type { BurnerView } from '../../../shared/contract/api.ts';
import { useLostMs } from '../connection.ts';
import { useFeed } from '../feeds.ts';
import { withoutHost } from './without-host.ts';

/** What the burner does, as the host's tracker says; undefined until the host has said so, unknown while the connection is lost. */
export function useBurnerState(): BurnerView | undefined {
  const burner = useFeed('burner.live', {});
  const lostMs = useLostMs();
  return useMemo(() => (burner && lostMs !== undefined ? withoutHost(burner, lostMs) : burner), [burner, lostMs]);
}
