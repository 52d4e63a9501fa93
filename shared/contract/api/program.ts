import { z } from 'zod';
import { call, feed } from '../define.ts';
import { fault, nothing } from './shapes.ts';

/** The program itself and its store. */
export const programCalls = {
  'about.get': call(
    nothing,
    z.object({
      version: z.string(),
      host: z.enum(['desktop', 'browser', 'command']),
      dataFolder: z.string(),
      /** Whether there is a practice bench. */
      practice: z.boolean(),
    }),
  ),
  /** A further address of the workbench, for one more browser on this computer: it can be used once. Only the browser host has any. */
  'address.new': call(nothing, z.object({ address: z.string() })),
  /**
   * The fault of the store that the technician must see now (disk full), absent once it is over; and how many desktop windows and
   * browser tabs follow this feed.
   */
  'store.live': feed(nothing, z.object({ fault: fault.optional(), windows: z.number() })),
} as const;
