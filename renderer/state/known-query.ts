import { type QueryKey, type QueryState, useQueryClient } from '@tanstack/react-query';
import { useCallback, useSyncExternalStore } from 'react';

/** What this page knows of an answer that another part of it asks for; undefined before anyone has. Requests nothing. */
export function useKnownQuery<T>(queryKey: QueryKey): QueryState<T> | undefined {
  const client = useQueryClient();
  const read = () => client.getQueryState<T>(queryKey);
  return useSyncExternalStore(
    useCallback((listener: () => void) => client.getQueryCache().subscribe(listener), [client]),
    read,
    read,
  );
}
