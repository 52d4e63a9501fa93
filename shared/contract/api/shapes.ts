import { z } from 'zod';

// What several subjects of the contract are made of.

/** No input, or no output but success. */
export const nothing = z.object({});

export const bytes = z.custom<Uint8Array>((value) => value instanceof Uint8Array, 'must be bytes');

/** A fault as it travels: see `Fault` in the model. */
export const fault = z.object({
  code: z.string(),
  message: z.string(),
  facts: z.record(z.string(), z.union([z.string(), z.number()])).optional(),
});

/** Names one capture by its id, or by an unambiguous beginning of it. */
export const captureId = z.object({ capture: z.string() });

/** A file to save or a file that was given. */
export const namedBytes = z.object({ name: z.string(), bytes });
