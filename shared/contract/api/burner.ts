import { z } from 'zod';
import { alarmKinds } from '../../burner-state/alarms.ts';
import { phaseNames } from '../../burner-state/phases.ts';
import { regulatorStates } from '../../burner-state/regulator/regulator.ts';
import { flameStates, gasStates } from '../../burner-state/chain/states.ts';
import { stretchKinds } from '../../model/stretches.ts';
import { call, feed } from '../define.ts';
import { captureId, nothing } from './shapes.ts';

/** Trouble of one meter, as it stands now. */
const trouble = z.object({ kind: z.enum(['silent', 'frozen', 'no-number', 'off']), forS: z.number() });

/** What the burner does, as the host's tracker says it, with the alarm and the purge. Times in seconds before now. */
export const BurnerView = z.object({
  gas: z.enum(gasStates),
  flame: z.enum(flameStates),
  regulator: z.enum(regulatorStates),
  phase: z.enum(phaseNames),
  /** The lower of the probabilities of gas and flame. */
  probability: z.number(),
  /** Why the pressure must not be set now: the code of a fault and its sentence. Absent while it may. */
  settingRefusal: z.object({ code: z.string(), message: z.string() }).optional(),
  /**
   * `forS`: how long gas was unlit, until now or until the flame came back (`isLit`); of another kind, how long it has been on. `isLeast`:
   * it may have been longer, no meter saw when that began; `longestS`: since a meter last showed that it was not unlit. `count`:
   * which loss it is since gas was last shut, from 1; another one sounds again. `toEnd`: what ends one that outlasts the shutting of the gas. `interrupted`: it stood when an earlier recording was cut off.
   * `mayConfirm`: no meter can show that gas is off, so that the technician may say so.
   */
  alarm: z
    .object({
      kind: z.enum(alarmKinds),
      count: z.number().int().optional(),
      forS: z.number(),
      isLeast: z.literal(true).optional(),
      longestS: z.number().optional(),
      message: z.string(),
      toEnd: z.string().optional(),
      isLit: z.literal(true).optional(),
      interrupted: z.literal(true).optional(),
      mayConfirm: z.literal(true).optional(),
    })
    .optional(),
  purge: z.object({
    needed: z.boolean(),
    /** Seconds that count, seconds that do not (air not known), and how many are wanted. */
    purgedS: z.number(),
    waitedS: z.number(),
    wantedS: z.number(),
    /** A signal as a flame's came and may still stand, over gas that no meter shows: nothing counts before the technician says that gas is off. */
    mayHaveBurned: z.literal(true).optional(),
  }),
  /** `gone`: the fan was confirmed, and the gauge has shown it and shows it no more. */
  air: z.object({ shown: z.boolean().optional(), confirmed: z.boolean(), gone: z.literal(true).optional() }),
  /**
   * The gas that is on is that of a light-off trial, which runs or is about to be recognized: it came on from shut gas after a full purge,
   * and the trial's time is not over. Absent also where nobody saw it come on.
   */
  trialGas: z.literal(true).optional(),
  /** The pressure stands above that of shut gas at light-off, and rose to it slowly: more air, as in a purge, or gas that creeps in. */
  moreAir: z.literal(true).optional(),
  pressureTrouble: trouble.optional(),
  signalTrouble: trouble.optional(),
});
export type BurnerView = z.infer<typeof BurnerView>;

/** A stretch of a capture and what it was, elapsed seconds. */
const stretch = z.object({ fromS: z.number(), toS: z.number(), kind: z.enum(stretchKinds) });

/** What the burner does, from the live readings, recording or not. */
export const burnerCalls = {
  /** The state of the burner as it changes, at most five times a second. First item at once. */
  'burner.live': feed(nothing, BurnerView),
  /**
   * What the burner did since the recording of a capture began, told live, in its own seconds; first item at once. Empty for a capture that
   * is not being recorded here: the analysis tells what it was, with hindsight.
   */
  'burner.stretches': feed(captureId, z.object({ stretches: z.array(stretch) })),
  /** The technician confirms that the fan runs, or takes that back: from then on a purge counts, or no longer. */
  'burner.air': call(z.object({ confirmed: z.boolean() }), nothing),
  /**
   * The technician says that gas is off where no meter can show it: it was on when an earlier recording was cut off (and the furnace was
   * purged since), or the manometer is not believed, or may have been off its hose. Any other alarm is refused with its own fault.
   */
  'burner.gasOff': call(nothing, nothing),
} as const;
