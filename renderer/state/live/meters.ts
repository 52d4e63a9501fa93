import { useMemo } from 'react';
import { useLostMs } from '../connection.ts';
import { useFeed } from '../feeds.ts';
import { latestReading } from './latest-readings.ts';
import { metersWithoutHost } from './without-host.ts';

/**
 * All connected meters with the newest pressure and signal, up to ten times a second. While the connection is lost they stay in view, but
 * every reading counts as stale.
 */
export function useMeters() {
  const told = useFeed('meters.live', {});
  const lostMs = useLostMs();
  return useMemo(() => {
    const meters = told && lostMs !== undefined ? metersWithoutHost(told, lostMs) : told;
    return { meters, ...latestReading(meters) };
  }, [told, lostMs]);
}
