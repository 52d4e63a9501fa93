import { useFeed } from '../feeds.ts';
import { latestReading } from './latest-readings.ts';
import { useConnection } from '../connection.ts';

/**
 * All connected meters with the newest pressure and signal, up to ten times a second. While the connection is lost the last
 * state stays in view, but counts as stale.
 */
export function useMeters() {
  const meters = useFeed('meters.live', {});
  const { pressure, signal } = latestReading(meters);
  const isLost = useConnection() === 'lost';
  return {
    meters,
    pressure: pressure && { ...pressure, stale: pressure.stale || isLost },
    signal: signal && { ...signal, stale: signal.stale || isLost },
  };
}
