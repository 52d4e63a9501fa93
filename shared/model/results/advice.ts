import { z } from 'zod';
import { LightingView } from './lighting-view.ts';
import { pressureUnits } from '../units.ts';

/** A light-off trial that could be made next, away from the setting. Pressures are gauge readings. */
export const Candidate = z.object({
  side: z.enum(['low', 'high']),
  pressure: z.number(),
  /** Seconds from the gas to the spark. */
  sparkDelay_s: z.number(),
  /** Margin that it is expected to prove: the step beyond what is proved, times the chance that it lights. */
  gain: z.number(),
});
export type Candidate = z.infer<typeof Candidate>;

/** The next light-off trial, or why none is to be made. */
export const Advice = z.object({
  /** Null exactly when `stop` is true. */
  next: z.object({ pressure: z.number(), sparkDelay_s: z.number(), reason: z.string() }).nullable(),
  stop: z.boolean(),
  reason: z.string(),
  /** Trials without a failure that the plan still needs at the setting; where a claim is lost there, which allows none, `reason` says that no number meets it. */
  proof: z.object({ plainStillNeeded: z.number(), delayedStillNeeded: z.number() }),
  /** Outermost pressures that lit with no failure at or inside them; an end is absent where nothing beyond the setting was tried so. */
  shown: z.object({ low: z.number().optional(), high: z.number().optional() }),
  /** The trials away from the setting that could be made instead, the one that gains most first. */
  candidates: z.array(Candidate),
  /** What to know beside it, in sentences. */
  notes: z.array(z.string()),
});
export type Advice = z.infer<typeof Advice>;

/** An advice with what the trials prove at the setting, in sentences, where they lit, and the unit of its pressures. */
export const CaptureAdvice = Advice.extend({
  pressureUnit: z.enum(pressureUnits),
  proved: z.string(),
  /** How far the plan is at the setting, as the report says it; absent where there is no setting. */
  plan: z.object({ met: z.boolean(), counts: z.string() }).optional(),
  lighting: LightingView.optional(),
});
export type CaptureAdvice = z.infer<typeof CaptureAdvice>;
