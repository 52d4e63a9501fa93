import { z } from 'zod';
import { call, feed } from '../define.ts';
import { nothing } from './shapes.ts';

export const PracticeState = z.object({
  scenario: z.string(),
  scenarios: z.array(z.object({ name: z.string(), description: z.string() })),
  /** Turns of the regulator screw from its lower stop. */
  turns: z.number(),
  turnsMax: z.number(),
  pilotValve: z.boolean(),
  spark: z.boolean(),
  fan: z.boolean(),
  /** Whether the simulated flame burns (what one would see through the sight port). */
  flame: z.boolean(),
});
export type PracticeState = z.infer<typeof PracticeState>;

/** The practice bench; refused with `practice-off` where the host has none. */
export const practiceCalls = {
  'practice.live': feed(nothing, PracticeState),
  'practice.act': call(
    z.object({
      scenario: z.string().optional(),
      turns: z.number().optional(),
      pilotValve: z.boolean().optional(),
      spark: z.boolean().optional(),
      fan: z.boolean().optional(),
    }),
    nothing,
  ),
} as const;
