import { useQuery, useQueryClient } from '@tanstack/react-query';
import { callHostOrThrow, faultOf } from '../state/host-calls.ts';

/** The HTML report of a capture, made again each time the place is opened, as notes may have been added since. */
export function useReportPreview(capture: string, before: string | undefined) {
  const client = useQueryClient();
  const queryKey = ['report.make', capture, before];
  const query = useQuery({
    queryKey,
    queryFn: async ({ signal }) => {
      const input = { capture, ...(before !== undefined && { before }), format: 'html' as const };
      return new TextDecoder().decode((await callHostOrThrow('report.make', input, signal)).bytes);
    },
    refetchOnMount: 'always',
  });
  return {
    html: query.data,
    fault: faultOf(query.error),
    busy: query.isFetching,
    remake: query.refetch,
    cancel: () => void client.cancelQueries({ queryKey }),
  };
}
