import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { useRef } from 'react';
import type { z } from 'zod';
import type { Api } from '../../shared/contract/api.ts';
import { fault, type Fault } from '../../shared/model/faults.ts';
import type { Outcome } from '../../shared/model/outcome.ts';
import { host } from './connection.ts';

export type CallName = { [K in keyof Api]: Api[K]['kind'] extends 'call' ? K : never }[keyof Api];
export type CallInput<N extends CallName> = z.input<Api[N]['input']>;
export type CallOutput<N extends CallName> = z.output<Api[N]['output']>;

/** Carries a fault through TanStack Query, which knows only rejections. */
export class HostFault extends Error {
  readonly fault: Fault;
  constructor(fault: Fault) {
    super(fault.message);
    this.name = 'HostFault';
    this.fault = fault;
  }
}

/** Calls the host. Expected faults come as the outcome, `host-gone` among them. */
export async function callHost<N extends CallName>(
  name: N,
  input: CallInput<N>,
  signal?: AbortSignal,
): Promise<Outcome<CallOutput<N>>> {
  const call = host[name] as unknown as (input: CallInput<N>, signal?: AbortSignal) => Promise<Outcome<CallOutput<N>>>;
  return call(input, signal);
}

/** The answer itself, or a rejection with the fault: for TanStack Query. */
export async function callHostOrThrow<N extends CallName>(
  name: N,
  input: CallInput<N>,
  signal?: AbortSignal,
): Promise<CallOutput<N>> {
  const outcome = await callHost(name, input, signal);
  if (!outcome.ok) throw new HostFault(outcome.fault);
  return outcome.value;
}

/** The fault in a rejection; a rejection without one is a bug and becomes the fault `internal`. */
export const faultOf = (error: unknown): Fault | undefined => {
  if (error === null || error === undefined) return undefined;
  return error instanceof HostFault
    ? error.fault
    : fault('internal', { what: error instanceof Error ? error.message : 'a rejection that is not an error' });
};

/** Data that the host owns, requested once and cached until `refetch` or an action that invalidates it. */
export function useHostQuery<N extends CallName>(name: N, input: CallInput<N>, enabled = true) {
  const query = useQuery({
    queryKey: [name, input],
    queryFn: ({ signal }) => callHostOrThrow(name, input, signal),
    enabled,
  });
  return { data: query.data, fault: faultOf(query.error), busy: query.isFetching, refetch: query.refetch };
}

/**
 * A call that changes what the host owns; `invalidates` names the queries that are requested again afterwards. The call is over without
 * them: an analysis may take seconds, and what follows the call must not happen under hands that have gone on.
 */
export function useHostAction<N extends CallName>(name: N, invalidates: readonly CallName[] = []) {
  const client = useQueryClient();
  const running = useRef<AbortController>(undefined);
  const mutation = useMutation({
    mutationFn: (input: CallInput<N>) => {
      running.current = new AbortController();
      return callHostOrThrow(name, input, running.current.signal);
    },
    onSettled: () => {
      for (const query of invalidates) void client.invalidateQueries({ queryKey: [query] });
    },
  });
  return {
    /** Gives the answer, or undefined when it failed; the fault is then in `fault`. */
    run: (input: CallInput<N>): Promise<CallOutput<N> | undefined> =>
      mutation.mutateAsync(input).catch(() => undefined),
    fault: faultOf(mutation.error),
    busy: mutation.isPending,
    clear: mutation.reset,
    /** Gives up the last call; one that works for long ends at once, with the fault `cancelled`. */
    stop: () => running.current?.abort(),
  };
}
