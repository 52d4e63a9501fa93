import { z } from 'zod';
import { convertPressure, PressureUnit, SignalUnit } from './units.ts';

const positive = z.number().positive();
const share = z.number().gt(0).lt(1);

export const PressureValue = z.object({ value: z.number(), unit: PressureUnit });
export const SignalValue = z.object({ value: z.number(), unit: SignalUnit });

/** Accuracy from a meter's data sheet, as the half-width of its limits: percent of reading plus a fixed error. */
const accuracy = <U extends z.ZodType>(unit: U) =>
  z.object({ percentOfReading: z.number().min(0).default(0), absolute: z.number().min(0).default(0), unit });

export const setPointRules = ['equal-pressure', 'equal-flow', 'equal-ratio'] as const;
export type SetPointRule = (typeof setPointRules)[number];

/** Which light-off trials prove a setting: so many in a row, or a claim about the probability to light, shown without any failure. */
const lightOffPlan = z.union(
  [
    z.strictObject({
      probability: share,
      confidence: share,
      delayed: z.number().int().min(0),
    }),
    z.strictObject({ plain: z.number().int().min(0), delayed: z.number().int().min(0) }),
  ],
  {
    error:
      'Give whole numbers of trials as "plain" and "delayed", or a claim as "probability" and "confidence", each above 0 and below 1, with "delayed"',
  },
);

/** A quantity as it is compared with another one of its kind. */
const inPascals = ({ value, unit }: z.infer<typeof PressureValue>): number => convertPressure(value, unit, 'Pa');

/** Tests that look for the pressure where half of the trials fail, which may be chosen where more than one failure was agreed. */
export const trialMethods = ['up-and-down', 'langlie', 'neyer'] as const;
export type TrialMethod = (typeof trialMethods)[number];

/** What was agreed for light-off trials: how far out, how late the spark, and how many failures on one side of the setting. */
const trialLimits = z
  .object({
    low: PressureValue.optional(),
    high: PressureValue.optional(),
    /** Longest delay of the spark after the gas, seconds; absent: no delayed spark. */
    longestDelay_s: positive.optional(),
    /** A side that failed so often is not tried further. */
    mostFailures: z.number().int().min(1).optional(),
    /** How trials outward are chosen; absent: by the margin that they are expected to prove, seeking no failure. */
    method: z.enum(trialMethods).optional(),
  })
  .refine(({ low, high }) => !low || !high || inPascals(low) < inPascals(high), { message: 'low must be below high' });

/** The requirements of the burner and the accuracies of the meters: `NAME.setup.json`. Every key is optional. */
export const Setup = z.object({
  minimumSignal: SignalValue.extend({ value: z.number().min(0) }).optional(),
  signalDropFraction: share.optional(),
  makerPressureRange: z
    .object({ low: z.number(), high: z.number(), unit: PressureUnit })
    .refine((range) => range.low < range.high, { message: 'low must be below high' })
    .optional(),
  fanOnlyPressure: PressureValue.optional(),
  pilotTrialSeconds: positive.optional(),
  pressureAccuracy: accuracy(PressureUnit).optional(),
  signalAccuracy: accuracy(SignalUnit).optional(),
  asLeftPressure: PressureValue.optional(),
  setPointRule: z.enum(setPointRules).optional(),
  confidence: z.number().min(0.5).max(0.999).optional(),
  seed: z.number().int().min(0).max(0xffff_ffff).optional(),
  lightOffPlan: lightOffPlan.optional(),
  trialLimits: trialLimits.optional(),
  /** What the manometer showed open to the air. */
  pressureZero: PressureValue.optional(),
  /** What the signal meter showed without flame and spark, and with the spark alone, gas shut. */
  darkSignal: SignalValue.optional(),
  sparkOnlySignal: SignalValue.optional(),
  /** Purge wait between light-off trials, seconds. Our own key, not in the published format. */
  purgeSeconds: positive.optional(),
  /**
   * Stated once for a visit: the control sparks with the gas, so that trials without an announced delay are plain where no ignition
   * channel is wired. `by`: who said it; `at`: when, ISO 8601. Our own key.
   */
  sparkWithGas: z.object({ by: z.string().min(1).max(200), at: z.string().optional() }).optional(),
});
export type Setup = z.infer<typeof Setup>;

/**
 * Used for keys that a setup does not have; the maker's value always wins.
 * `pilotTrialSeconds`: the trial for ignition of many controls. `purgeSeconds`: a
 * minute is our own choice, long enough to stop a hasty repeat; it does not replace the burner's own purge time.
 */
export const setupDefaults = {
  signalDropFraction: 0.1,
  setPointRule: 'equal-pressure',
  confidence: 0.95,
  seed: 1,
  pilotTrialSeconds: 10,
  purgeSeconds: 60,
  mostFailures: 1,
} as const;
