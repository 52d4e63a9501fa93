import { z } from 'zod';

const interval = z.tuple([z.number(), z.number()]);

/** What the lighting model says of one side of the window, pressures in the unit of the result. */
export const LightingSide = z.object({
  trials: z.number().int(),
  lit: z.number().int(),
  /** Lowest and highest pressure of the trials. */
  tried: interval,
  /**
   * The probability of lighting with the spark at once, at pressures tried so, from the lowest on. Empty where pressure and delay changed
   * together, and where no spark came at once.
   */
  estimates: z.array(z.object({ pressure: z.number(), probability: z.number(), ci: interval })),
  /** The trials show that the pilot lights less often farther out. */
  fallsOff: z.boolean(),
  /** Where it falls off: the outermost pressure at which it is estimated to light as often as wanted. */
  reach: z.number().optional(),
});
export type LightingSide = z.infer<typeof LightingSide>;

/** The lighting model on both sides of the window. */
export const Lighting = z.object({
  /** The probability that `reach` asks for. */
  wanted: z.number(),
  /** Trials that it cannot use: nobody knows when the spark came, or the pressure moved while it lit. */
  leftOut: z.number().int(),
  low: LightingSide.optional(),
  high: LightingSide.optional(),
});
export type Lighting = z.infer<typeof Lighting>;
