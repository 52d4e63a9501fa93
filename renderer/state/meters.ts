import { useFeed } from './feeds.ts';
import { latestOf } from './latest.ts';

/** All connected meters, and the newest pressure and signal, up to ten times a second. */
export function useMeters() {
  const meters = useFeed('meters.live', {});
  return { meters, ...latestOf(meters) };
}
