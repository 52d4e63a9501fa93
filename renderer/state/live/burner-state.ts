import type { BurnerView } from '../../../shared/contract/api.ts';
import { useFeed } from '../feeds.ts';

/** What the burner does, as the host's tracker says; undefined until the host has said so. */
export const useBurnerState = (): BurnerView | undefined => useFeed('burner.live', {});
