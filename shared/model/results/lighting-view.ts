import { z } from 'zod';
import { PressureUnit } from '../units.ts';

const numbers = z.custom<Float64Array>((value) => value instanceof Float64Array, 'must be a Float64Array');

/** A place in the plane of pressure and spark delay, seconds. */
const place = z.tuple([z.number(), z.number()]).readonly();

/** What the light-off trials of a visit show against pressure and spark delay, as picture and in words. Pressures in `pressureUnit`. */
export const LightingView = z.object({
  pressureUnit: PressureUnit,
  /** Length of the trial for ignition. */
  trialSeconds: z.number(),
  /** The trials whose spark is known; a spark at once has delay 0. */
  tried: z.array(z.object({ pressure: z.number(), delayS: z.number(), lit: z.boolean() })),
  /** Polygons, or lines and points: shown to light, and all that was tried. Absent where there is no setting. */
  regions: z.object({ proved: z.array(z.array(place)), tried: z.array(place) }).optional(),
  /** Percent probability to light with the spark at once and its interval, low side and then high side; NaN between them. */
  band: z.object({ pressure: numbers, probability: numbers, low: numbers, high: numbers }),
  /** The steady signal in percent of its plateau. */
  signal: z.object({ pressure: numbers, percent: numbers }),
  /** Guarded ends of the window. */
  window: z.tuple([z.number(), z.number()]).optional(),
  setPoint: z.number().optional(),
  asLeft: z.number().optional(),
  /** Whether it lights at any moment of the trial for ignition at the setting, and what the model says of each side. */
  words: z.array(z.string()),
});
export type LightingView = z.infer<typeof LightingView>;
