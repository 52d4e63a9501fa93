import { z } from 'zod';
import type { Fault } from '../model/faults.ts';
import type { Outcome } from '../model/outcome.ts';

/**
 * Items of one feed that may be under way before the reader has used the first of them.
 * 4: enough to hide the way there and back, little enough that a stopped reader stops the feed at once.
 */
export const feedWindow = 4;

/** Calls and feeds that one channel may have running; a page has some twenty. */
export const runningLimit = 256;

const id = z.number().int().min(0);

/**
 * Everything a client may send. `ask` begins a call or a feed under an id that is not in use; `more`: one item was used, so one
 * more may come; `stop`: no answer is wanted any more.
 */
export const FromClient = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('ask'), id, name: z.string().max(100), input: z.unknown() }),
  z.object({ kind: z.literal('more'), id }),
  z.object({ kind: z.literal('stop'), id }),
]);
export type FromClient = z.infer<typeof FromClient>;

/** Everything a host sends. `done` answers a call, `item` and `end` belong to a feed. */
export type FromHost =
  | { kind: 'done'; id: number; outcome: Outcome<unknown> }
  | { kind: 'item'; id: number; item: unknown }
  | { kind: 'end'; id: number; fault?: Fault };
