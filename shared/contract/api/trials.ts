import { z } from 'zod';
import { Trial } from '../../model/capture.ts';
import { call } from '../define.ts';
import { captureId, nothing } from './shapes.ts';

/** An entry of the record of trials as the store has it. */
export const StoredTrial = Trial.extend({ id: z.number().int() });
export type StoredTrial = z.infer<typeof StoredTrial>;

const trialId = z.object({ capture: z.string(), trial: z.number().int() });
/** Line breaks become LF, as in a CSV file they cannot be told apart. */
const words = z
  .string()
  .transform((text) => text.replace(/\r\n?/gu, '\n').trim())
  .pipe(z.string().min(1).max(2000));

/** What is observed of a trial; `corrects`, `status` and who corrected it follow from the call. */
const observed = Trial.omit({ status: true, corrects: true, reason: true, knownBy: true }).extend({
  note: words.optional(),
});

/** The facts that a correction may change; null: it is not known after all. */
const changes = z
  .object({
    ...observed.pick({ pressure: true, unit: true, lit: true }).partial().shape,
    sparkDelayS: Trial.shape.sparkDelayS.nullable(),
    timeToProveS: Trial.shape.timeToProveS.nullable(),
    timeToProveFromSparkS: Trial.shape.timeToProveFromSparkS.nullable(),
    elapsedS: Trial.shape.elapsedS.nullable(),
    purgeS: Trial.shape.purgeS.nullable(),
    purgeBy: Trial.shape.purgeBy.nullable(),
    pressureBefore: Trial.shape.pressureBefore.nullable(),
    pressureAfter: Trial.shape.pressureAfter.nullable(),
    note: words.nullable().optional(),
  })
  .refine((given) => Object.values(given).some((value) => value !== undefined), { message: 'nothing is changed' });

/** The light-off trials of a capture. */
export const trialCalls = {
  /** Starts a light-off trial at the present pressure. Refused during the purge wait or while a trial runs. */
  'trials.begin': call(z.object({ capture: z.string(), sparkDelayS: z.number().min(0).max(60) }), nothing),
  /**
   * Ends it; the purge wait begins. `pressure` (in the unit of `runningTrial`): what the manometer showed while the gas
   * flowed; it replaces the pressure at the start, where with the pilot valve still shut there is only fan pressure.
   */
  'trials.end': call(
    z.object({
      capture: z.string(),
      lit: z.boolean(),
      timeToProveS: z.number().min(0).optional(),
      pressure: z.number().optional(),
    }),
    nothing,
  ),
  /** Discards a trial that was begun (wrong button, sequence did not start); the purge wait begins all the same. */
  'trials.cancel': call(captureId, nothing),

  /**
   * Adds a trial that was recognized from the meters (`knownBy` meters) or is entered by hand. A complete capture takes one only with a
   * reason, else `reason-missing`.
   */
  'trials.add': call(
    z.object({
      capture: z.string(),
      trial: observed.extend({ knownBy: z.enum(['meters', 'hand']), reason: words.optional() }),
    }),
    trialId.pick({ trial: true }),
  ),
  /**
   * Corrects a trial, at any time, complete or not: adds an entry with the changed facts that names the one it corrects, which stays. A
   * void entry is valid again when it is corrected. Of the times to prove, those that the change makes wrong go, unless they are given.
   * Fails with `trial-unknown`, or `trial-replaced` when that entry was corrected or discarded already. Gives the new entry.
   */
  'trials.correct': call(trialId.extend({ changes, reason: words }), trialId.pick({ trial: true })),
  /** Discards a trial, at any time: adds a void entry that names it. Fails as `trials.correct` does, or with `trial-void`. */
  'trials.void': call(trialId.extend({ reason: words }), trialId.pick({ trial: true })),
} as const;
