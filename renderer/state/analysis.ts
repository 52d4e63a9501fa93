import { useQuery, useQueryClient } from '@tanstack/react-query';
import { useCallback, useSyncExternalStore } from 'react';
import type { CaptureView } from '../../shared/contract/api.ts';
import { currentAnalysis } from './current-analysis.ts';
import { callHostOrThrow, faultOf } from './host-calls.ts';

/**
 * The analysis of a capture. A complete capture is analyzed once. One that is still open is analyzed again each time a
 * component mounts with `fresh`, and on `rerun`. Unmounting or `cancel` stops the work at the host.
 */
export function useAnalysis(capture: CaptureView | undefined, fresh = false) {
  const client = useQueryClient();
  const id = capture?.id;
  const isOpen = capture?.status !== 'complete';
  const query = useQuery({
    queryKey: ['analysis.run', id],
    queryFn: ({ signal }) => callHostOrThrow('analysis.run', { capture: id! }, signal),
    enabled: id !== undefined,
    refetchOnMount: fresh && isOpen ? 'always' : true,
    structuralSharing: false,
  });
  const cancel = useCallback(() => void client.cancelQueries({ queryKey: ['analysis.run', id] }), [client, id]);
  return {
    analysis: currentAnalysis(query),
    fault: faultOf(query.error),
    busy: query.isFetching,
    rerun: query.refetch,
    cancel,
  };
}

/** Whether this page has the analysis of that capture already. Requests nothing. */
export function useIsAnalyzed(id: string | undefined): boolean {
  const client = useQueryClient();
  return useSyncExternalStore(
    (listener) => client.getQueryCache().subscribe(listener),
    () => client.getQueryData(['analysis.run', id]) !== undefined,
  );
}
