import { z } from 'zod';
import type { Fault } from '../model/faults.ts';
import type { Outcome } from '../model/outcome.ts';

/**
 * Items of one feed that may be sent before the client has used the first of them.
 * 4: enough to hide the round trip, few enough that a stopped client stops the feed at once.
 */
export const feedCredit = 4;

/** Calls and feeds that may run on one channel; a page has some twenty. */
export const runningLimit = 256;

const id = z.number().int().min(0);

/**
 * Every message that a client may send. `ask` begins a call or a feed under an id that is not in use; `more`: one item was used, so one
 * more may be sent; `stop`: cancels.
 */
export const FromClient = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('ask'), id, name: z.string().max(100), input: z.unknown() }),
  z.object({ kind: z.literal('more'), id }),
  z.object({ kind: z.literal('stop'), id }),
]);
export type FromClient = z.infer<typeof FromClient>;

/** Every message that a host sends. `done` answers a call, `item` and `end` belong to a feed. */
export type FromHost =
  | { kind: 'done'; id: number; outcome: Outcome<unknown> }
  | { kind: 'item'; id: number; item: unknown }
  | { kind: 'end'; id: number; fault?: Fault };
