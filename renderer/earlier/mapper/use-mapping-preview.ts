import { keepPreviousData, useQuery } from '@tanstack/react-query';
import { useEffect, useRef, useState } from 'react';
import type { Mapping } from '../../../shared/model/logger/mapping.ts';
import type { MappingPreview } from '../../../shared/model/logger/preview.ts';
import { callHostOrThrow, faultOf } from '../../state/host-calls.ts';
import type { ForeignFile } from '../use-file-import.ts';

/** The mapping after a change of what a preview shows; undefined where that has gone meanwhile. */
export type MappingChange = (preview: MappingPreview) => Mapping | undefined;

/** How a file would be read, by the mapping as it is changed step by step. The host reads the file anew after each change. */
export function useMappingPreview(file: ForeignFile) {
  const [mapping, setMapping] = useState<Mapping>();
  const { data, error, isFetching } = useQuery({
    queryKey: ['files.preview', file.key, mapping],
    queryFn: ({ signal }) =>
      callHostOrThrow(
        'files.preview',
        { file: { name: file.name, bytes: file.bytes }, ...(mapping && { mapping }) },
        signal,
      ),
    placeholderData: keepPreviousData,
    staleTime: Number.POSITIVE_INFINITY,
    gcTime: 0,
    structuralSharing: false,
  });
  // A change that is made while the last one is read follows it: what is shown is not the latest then.
  const next = useRef<MappingChange[]>([]);
  useEffect(() => {
    if (isFetching || !data) return;
    const changed = next.current.shift()?.(data);
    if (changed) setMapping(changed);
  }, [data, isFetching]);
  return {
    preview: data,
    fault: faultOf(error),
    isReading: isFetching,
    change(step: MappingChange) {
      if (isFetching || !data) next.current.push(step);
      else setMapping(step(data) ?? data.mapping);
    },
  };
}
