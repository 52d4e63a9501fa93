import { useQuery, useQueryClient } from '@tanstack/react-query';
import { callHostOrThrow, faultOf } from '../state/host-calls.ts';

/** The HTML report of a capture, made anew each time the place is entered: notes may have been added since. */
export function useReportPreview(capture: string, before: string | undefined) {
  const client = useQueryClient();
  const queryKey = ['report.make', capture, before];
  const query = useQuery({
    queryKey,
    queryFn: async ({ signal }) => {
      const ask = { capture, ...(before !== undefined && { before }), format: 'html' as const };
      return new TextDecoder().decode((await callHostOrThrow('report.make', ask, signal)).bytes);
    },
    refetchOnMount: 'always',
  });
  return {
    html: query.data,
    fault: faultOf(query.error),
    busy: query.isFetching,
    again: query.refetch,
    cancel: () => void client.cancelQueries({ queryKey }),
  };
}
