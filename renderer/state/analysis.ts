import { useQuery, useQueryClient } from '@tanstack/react-query';
import { useCallback, useMemo } from 'react';
import type { AnalysisDetail } from '../../shared/model/results/analysis-result.ts';
import { type AnalyzedRecord, analysisBasis } from './analysis-basis.ts';
import { currentAnalysis } from './current-analysis.ts';
import { callHostOrThrow, faultOf } from './host-calls.ts';
import { useKnownQuery } from './known-query.ts';
import { settle } from './settle.ts';

/**
 * The analysis of what is on record of a capture now. When trials, marks or setup change it is calculated again, and until then there is
 * none. An open capture is also analyzed again each time a component mounts with `fresh`, for its newest readings, and on `rerun`.
 * Unmounting or `cancel` stops the work at the host.
 */
export function useAnalysis(capture: AnalyzedRecord | undefined, fresh = false) {
  const client = useQueryClient();
  const queryKey = useAnalysisKey(capture);
  const isOpen = capture?.status !== 'complete';
  const query = useQuery({
    queryKey,
    queryFn: async ({ signal }) => {
      if (isOpen) await settle(signal);
      return callHostOrThrow('analysis.run', { capture: capture!.id }, signal);
    },
    enabled: capture !== undefined,
    refetchOnMount: fresh && isOpen ? 'always' : true,
    structuralSharing: false,
  });
  const cancel = useCallback(() => void client.cancelQueries({ queryKey }), [client, queryKey]);
  return {
    analysis: currentAnalysis(query),
    fault: faultOf(query.error),
    busy: query.isFetching,
    rerun: query.refetch,
    cancel,
  };
}

/** What this page knows of the analysis of a capture as it is on record now, and whether it is being calculated. Requests nothing. */
export function useKnownAnalysis(capture: AnalyzedRecord | undefined) {
  const state = useKnownQuery<AnalysisDetail>(useAnalysisKey(capture));
  return { analysis: state && currentAnalysis(state), isCalculating: state?.fetchStatus === 'fetching' };
}

/** The key of the analysis of what is on record now. */
function useAnalysisKey(capture: AnalyzedRecord | undefined) {
  return useMemo(() => ['analysis.run', capture?.id, capture && analysisBasis(capture)], [capture]);
}
