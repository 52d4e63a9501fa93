import { useQuery, useQueryClient } from '@tanstack/react-query';
import { type AnalyzedRecord, reportBasis } from '../state/analysis-basis.ts';
import { callHostOrThrow, faultOf } from '../state/host-calls.ts';

/**
 * The HTML report of a capture as it is on record now, made again when that changes and each time the place is opened, as notes may have
 * been added since.
 */
export function useReportPreview(record: AnalyzedRecord, before: string | undefined) {
  const client = useQueryClient();
  const capture = record.id;
  const queryKey = ['report.make', capture, before, reportBasis(record)];
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
