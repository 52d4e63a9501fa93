import { useQuery } from '@tanstack/react-query';
import { useMemo } from 'react';
import type { CaptureView } from '../../shared/contract/api.ts';
import type { CaptureAdvice } from '../../shared/model/results/advice.ts';
import { analysisBasis } from '../state/analysis-basis.ts';
import { useConnection } from '../state/connection.ts';
import { useKnownQuery } from '../state/known-query.ts';
import { callHostOrThrow } from '../state/host-calls.ts';
import { isAdvisable, stopsShort } from './plan-words.ts';
import { settle } from '../state/settle.ts';

/** The record without the trial that runs: until it is entered it changes nothing of what the others prove. */
const withoutRunning = (capture: CaptureView): CaptureView => ({
  ...capture,
  marks: capture.marks.filter(
    ({ kind, elapsedS }) => kind !== 'trial-start' || elapsedS !== capture.runningTrial?.startedS,
  ),
});

/** The key of the advice on what is on record now. */
const adviceKey = (capture: CaptureView) => ['advice.get', capture.id, analysisBasis(withoutRunning(capture))];

/**
 * What this page knows of the trial that is advised next, undefined where nothing holds now, whether none is although the plan asks for one,
 * and whether it is being calculated. Requests nothing.
 */
export function useKnownNextTrial(capture: CaptureView | undefined): {
  nextTrial: CaptureAdvice['next'] | undefined;
  stopsShort: boolean;
  isAdvising: boolean;
} {
  const state = useKnownQuery<CaptureAdvice>(useMemo(() => (capture ? adviceKey(capture) : ['advice.get']), [capture]));
  const advice = state?.fetchStatus === 'idle' && !state.error ? state.data : undefined;
  return {
    nextTrial: advice?.next,
    stopsShort: advice !== undefined && stopsShort(advice),
    isAdvising: state?.fetchStatus === 'fetching',
  };
}

/** The advice on a capture, asked for again when its trials, its sweeps or its setup have changed; not before there is a sweep. */
export function useAdvice(capture: CaptureView) {
  const { id, status } = capture;
  return useQuery({
    queryKey: adviceKey(capture),
    queryFn: async ({ signal }) => {
      if (status === 'recording') await settle(signal);
      return callHostOrThrow('advice.get', { capture: id }, signal);
    },
    enabled: isAdvisable(capture),
    // What was proved a moment ago is not proved anymore once a trial failed.
    gcTime: 0,
  });
}

/** The advice that holds now; undefined while it is calculated, where there is none, and once the host is gone that gave it. */
export const useAdviceNow = (capture: CaptureView): CaptureAdvice | undefined => useAdviceState(capture).advice;

/** The advice that holds now, and whether it is still being calculated, so that nothing may be called the next trial yet. */
export function useAdviceState(capture: CaptureView): { advice?: CaptureAdvice; isPending: boolean } {
  const { data, error, isFetching } = useAdvice(capture);
  const isLost = useConnection() === 'lost';
  return { isPending: isFetching && !isLost, ...(data && !error && !isFetching && !isLost && { advice: data }) };
}
