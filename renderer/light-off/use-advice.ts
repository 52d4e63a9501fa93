import { useQuery } from '@tanstack/react-query';
import type { CaptureView } from '../../shared/contract/api.ts';
import { callHostOrThrow } from '../state/host-calls.ts';

/** The advice on a capture, asked for again when its trials, its sweeps or its setup have changed. */
export function useAdvice({ id, status, trials, marks, setup }: CaptureView) {
  const settled = marks.filter(({ kind }) => kind !== 'note' && kind !== 'gap').length;
  return useQuery({
    queryKey: ['advice.get', id, status, JSON.stringify([trials, setup, settled])],
    queryFn: ({ signal }) => callHostOrThrow('advice.get', { capture: id }, signal),
    // What was proved a moment ago is not proved any more once a trial failed.
    gcTime: 0,
  });
}
