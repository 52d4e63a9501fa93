import { z } from 'zod';
import { PressureUnit, SignalUnit } from './units.ts';

const positive = z.number().positive();
const share = z.number().gt(0).lt(1);

export const PressureValue = z.object({ value: z.number(), unit: PressureUnit });
export const SignalValue = z.object({ value: z.number(), unit: SignalUnit });

/** Half-width of what a meter's maker promises: per cent of the reading plus an absolute part. */
const accuracy = <U extends z.ZodType>(unit: U) =>
  z.object({ percentOfReading: z.number().min(0).default(0), absolute: z.number().min(0).default(0), unit });

export const setPointRules = ['equal-pressure', 'equal-flow', 'equal-ratio'] as const;
export type SetPointRule = (typeof setPointRules)[number];

/** What is asked of the burner and known of the meters: `NAME.setup.json`. Every key is optional. */
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
  /** Own addition: the purge the technician keeps between light-off trials, seconds. */
  purgeSeconds: positive.optional(),
});
export type Setup = z.infer<typeof Setup>;

/** What counts where a setup is silent. `purgeSeconds` and `pilotTrialSeconds`: common practice; the maker's value wins. */
export const setupDefaults = {
  signalDropFraction: 0.1,
  setPointRule: 'equal-pressure',
  confidence: 0.95,
  seed: 1,
  pilotTrialSeconds: 10,
  purgeSeconds: 60,
} as const;
