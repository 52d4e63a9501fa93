import type { BurnerView } from '../../shared/contract/api.ts';
import { useConnection } from '../state/connection.ts';
import { useBurnerState } from '../state/live/burner-state.ts';

/** What the burner does; undefined also while the connection is lost, since what was true then may be over. */
export function useLiveBurner(): BurnerView | undefined {
  const burner = useBurnerState();
  return useConnection() === 'lost' ? undefined : burner;
}
