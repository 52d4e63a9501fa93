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
  /**
   * Starts a light-off trial at the present pressure, where the meters cannot see the gas come on; gas that they see soon after belongs
   * to it. Refused while an alarm is on, during the purge wait or while a trial runs.
   */
  'trials.begin': call(z.object({ capture: z.string(), sparkDelayS: z.number().min(0).max(60) }), nothing),
  /**
   * Announces that the spark of the next trial comes so many seconds after the gas; null takes it back. It holds for that trial only,
   * which begins with the gas. Refused as `trials.begin` is.
   */
  'trials.announce': call(z.object({ capture: z.string(), sparkDelayS: z.number().gt(0).max(60).nullable() }), nothing),
  /**
   * The technician states for this visit that the control sparks with the gas, or takes that back. Holds for the trials from now on, and
   * is kept in the setup (`sparkWithGas`) with who said it.
   */
  'trials.sparkWithGas': call(z.object({ capture: z.string(), stated: z.boolean() }), nothing),
  /**
   * Ends it; the purge wait begins. `pressure` (in the unit of `runningTrial`): what the manometer showed while the gas
   * flowed; without it the stored readings say so. `startedS`: which trial is meant (that of `runningTrial`); whatever runs now, one that
   * is over is refused with `trial-judged`, or with `trial-missing` where it has no entry. A verdict that contradicts the meters is refused
   * with `verdict-contradicts-meters` unless `confirmed`.
   */
  'trials.end': call(
    z.object({
      capture: z.string(),
      lit: z.boolean(),
      startedS: z.number().optional(),
      timeToProveS: z.number().min(0).optional(),
      pressure: z.number().optional(),
      confirmed: z.literal(true).optional(),
    }),
    nothing,
  ),
  /**
   * Discards a trial that was begun (wrong button, sequence did not start); the purge wait begins all the same. One whose gas the meters
   * saw goes into the record and is discarded there: `trial-has-gas`.
   */
  'trials.cancel': call(captureId, nothing),

  /**
   * Adds a trial that was recognized from the meters (`knownBy` meters) or is entered by hand. A complete capture takes one only with a
   * reason, else `reason-missing`. `status` void, also only with a reason: a trial that was cut short is discarded without a result.
   */
  'trials.add': call(
    z.object({
      capture: z.string(),
      trial: observed.extend({
        knownBy: z.enum(['meters', 'hand']),
        reason: words.optional(),
        status: Trial.shape.status,
      }),
    }),
    trialId.pick({ trial: true }),
  ),
  /**
   * Corrects a trial, at any time, complete or not: adds an entry with the changed facts that names the one it corrects, which stays. A
   * void entry is valid again when it is corrected. Of the times to prove, those that the change makes wrong go, unless they are given.
   * Fails with `trial-unknown`, or `trial-replaced` when that entry was corrected or discarded already; a verdict that turns round what
   * the meters showed is refused with `verdict-contradicts-meters` unless `confirmed`. Gives the new entry.
   */
  'trials.correct': call(
    trialId.extend({ changes, reason: words, confirmed: z.literal(true).optional() }),
    trialId.pick({ trial: true }),
  ),
  /** Discards a trial, at any time: adds a void entry that names it. Fails as `trials.correct` does, or with `trial-void`. */
  'trials.void': call(trialId.extend({ reason: words }), trialId.pick({ trial: true })),
} as const;
