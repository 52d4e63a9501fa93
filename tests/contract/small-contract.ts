import { setTimeout as wait } from 'node:timers/promises';
import { z } from 'zod';
import { call, feed } from '../../shared/contract/define.ts';
import type { Handlers } from '../../shared/contract/serve.ts';
import { fault } from '../../shared/model/faults.ts';
import type { Fault } from '../../shared/model/faults.ts';
import { fail, ok } from '../../shared/model/outcome.ts';

const floats = z.custom<Float64Array>((value) => value instanceof Float64Array);
const bytes = z.custom<Uint8Array>((value) => value instanceof Uint8Array);
const nothing = z.object({});

/** A contract with one of everything that can happen on a channel. */
export const small = {
  'echo.all': call(
    z.object({ floats, bytes, number: z.number().or(z.nan()), word: z.string().default('none') }),
    z.object({ floats, bytes, number: z.number().or(z.nan()), word: z.string() }),
  ),
  'capture.get': call(z.object({ capture: z.string() }), nothing),
  'work.forever': call(nothing, nothing),
  'bug.throws': call(nothing, nothing),
  'bug.answers': call(nothing, z.object({ count: z.number() })),
  'count.up': feed(z.object({ to: z.number().int() }), z.object({ n: z.number(), column: floats })),
  'count.none': feed(z.object({ capture: z.string() }), z.number()),
  'count.bug': feed(nothing, z.number()),
  'bug.items': feed(nothing, z.number()),
  'quiet.live': feed(nothing, z.number()),
} as const;
export type Small = typeof small;

/** What the handlers did, for tests to check. */
export interface Seen {
  /** How far `count.up` was advanced. */
  made: number;
  /** Names of what was stopped by its signal, and of feeds whose iterator was ended. */
  stopped: string[];
}

export function smallHandlers(): { handlers: Handlers<Small>; seen: Seen } {
  const seen: Seen = { made: 0, stopped: [] };
  const untilStopped = async (signal: AbortSignal, name: string) => {
    await new Promise<void>((resolve) => signal.addEventListener('abort', () => resolve(), { once: true }));
    seen.stopped.push(name);
  };
  const handlers: Handlers<Small> = {
    'echo.all': async (input) => ok(input),
    'capture.get': async ({ capture }) => fail(fault('capture-missing', { capture })),
    'work.forever': async (_input, signal) => {
      await untilStopped(signal, 'work.forever');
      return fail(fault('cancelled'));
    },
    'bug.throws': async () => {
      await wait(1);
      throw new TypeError('secret detail of the host');
    },
    'bug.answers': async () => ok({ count: 'many' as unknown as number }),
    'count.up': async function* ({ to }) {
      try {
        for (let n = 1; n <= to; n += 1) {
          seen.made = n;
          yield { n, column: Float64Array.of(n, Number.NaN) };
        }
      } finally {
        seen.stopped.push('count.up');
      }
    },
    'count.none': async function* ({ capture }): AsyncGenerator<number, Fault | void> {
      yield 1;
      return fault('capture-missing', { capture });
    },
    'count.bug': async function* () {
      yield 1;
      throw new TypeError('secret detail of the host');
    },
    'bug.items': async function* () {
      try {
        yield 1;
        yield 'two' as unknown as number;
      } finally {
        seen.stopped.push('bug.items');
      }
    },
    'quiet.live': async function* (_input, signal) {
      yield 1;
      await untilStopped(signal, 'quiet.live');
    },
  };
  return { handlers, seen };
}
