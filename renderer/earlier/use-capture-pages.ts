import { keepPreviousData, useQueries, useQuery } from '@tanstack/react-query';
import { useEffect, useState } from 'react';
import type { CaptureSummary } from '../../shared/contract/api.ts';
import { callHostOrThrow, faultOf } from '../state/host-calls.ts';

/** Captures are read from the host so many at a time. */
const pageSize = 100;

const pageQuery = (search: string, page: number) => ({
  queryKey: ['captures.page', search, page],
  queryFn: ({ signal }: { signal: AbortSignal }) =>
    callHostOrThrow('captures.page', { search, from: page * pageSize, count: pageSize }, signal),
});

/** The first page of what `search` finds, and how many there are. What the search before found stays until there is an answer. */
export function useFirstPage(search: string) {
  const { data, error } = useQuery({ ...pageQuery(search, 0), placeholderData: keepPreviousData });
  return { ...data, fault: faultOf(error) };
}

/** The captures at these places of the list (0: the newest) that are not on the first page; undefined until theirs has come. */
export function useFurtherPages(
  search: string,
  places: readonly number[],
): (place: number) => CaptureSummary | undefined {
  const pages = pagesOf(places);
  const found = useQueries({ queries: pages.map((page) => pageQuery(search, page)) });
  return (place) => found[pages.indexOf(Math.floor(place / pageSize))]?.data?.captures[place % pageSize];
}

/** The pages beyond the first that hold these places, each once. */
export const pagesOf = (places: readonly number[]): number[] =>
  [...new Set(places.map((place) => Math.floor(place / pageSize)))].filter((page) => page > 0);

/** `value` once it has stood still for `ms`: a search is not asked for each letter of a word that is typed fast. */
export function useSettled<T>(value: T, ms: number): T {
  const [settled, setSettled] = useState(value);
  useEffect(() => {
    const timer = setTimeout(() => setSettled(value), ms);
    return () => clearTimeout(timer);
  }, [value, ms]);
  return settled;
}
