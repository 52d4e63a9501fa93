import { z } from 'zod';
import { call, feed } from '../define.ts';
import { nothing } from './shapes.ts';

const meterCondition = z.enum(['sound', 'dead', 'frozen']);

/** What is operated at the bench, and what is wrong with it. */
const controls = z.object({
  /** Turns of the regulator screw from its lower stop. */
  turns: z.number(),
  /** A burner control operates valve, spark and fan; else they are operated by hand, with no flame safeguard. */
  hasControl: z.boolean(),
  /** Whether the valve is energized; a stuck one does not follow. */
  pilotValve: z.boolean(),
  spark: z.boolean(),
  fan: z.boolean(),
  callForHeat: z.boolean(),
  testSwitch: z.enum(['hold-pilot', 'run']),
  jumpered: z.boolean(),
  valve: z.enum(['sound', 'stuck-open', 'leaking']),
  manometer: meterCondition,
  multimeter: meterCondition,
});

/** How the control is set; times in seconds. */
const settings = z.object({
  prepurgeS: z.number(),
  trialS: z.number(),
  sparkDelayS: z.number(),
  flameFailureS: z.number(),
  postpurgeS: z.number(),
  onFlameFailure: z.enum(['lockout', 'recycle']),
});

export const PracticeState = controls.extend({
  scenario: z.string(),
  scenarios: z.array(z.object({ name: z.string(), description: z.string() })),
  turnsMax: z.number(),
  settings,
  /** Whether the simulated flame burns (what one would see through the sight port). */
  flame: z.boolean(),
  /** Where the control is in its sequence; left out without a control. */
  sequence: z.enum(['standby', 'prepurge', 'pilot-trial', 'pilot-hold', 'run', 'postpurge', 'lockout']).optional(),
  /** Whole seconds until that is over by itself. */
  secondsLeft: z.number().optional(),
});
export type PracticeState = z.infer<typeof PracticeState>;

/** The practice bench; refused with `practice-off` where the host has none. */
export const practiceCalls = {
  'practice.live': feed(nothing, PracticeState),
  'practice.act': call(
    controls.partial().extend({
      scenario: z.string().optional(),
      settings: settings.partial().optional(),
      /** Presses the reset button of the control. */
      reset: z.boolean().optional(),
      /** A gust blows the flame off. */
      blowOff: z.boolean().optional(),
    }),
    nothing,
  ),
} as const;
