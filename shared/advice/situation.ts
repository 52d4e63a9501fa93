import type { CountedTrial } from '../light-off/at-setting.ts';
import type { LightOffPlan } from '../light-off/plan.ts';
import { setupDefaults, type Setup, type TrialMethod } from '../model/setup.ts';
import { convertPressure, type PressureUnit } from '../model/units.ts';

/** A range of gauge pressures; an end that is absent is not bounded. */
export interface Range {
  low?: number;
  high?: number;
}

/** What was agreed for light-off trials. */
export interface Limits extends Range {
  /** Longest delay of the spark after the gas, seconds; absent: no delayed spark. */
  longestDelayS?: number;
  /** A side of the setting that failed so often is not tried further. */
  mostFailures: number;
  /** A test of the threshold that was chosen; used only where more than one failure was agreed. */
  method?: TrialMethod;
}

/** Everything that the next light-off trial is chosen from. Pressures are gauge readings in `unit`. */
export interface Situation {
  unit: PressureUnit;
  /** The pressure that is to be proved, in words such as "the pressure as left"; absent where there is none. */
  setting?: { pressure: number; tolerance: number; words: string };
  /**
   * The window by everything but light-off trials, and the same inside its guard bands, beyond which no trial goes; absent where there is
   * none.
   */
  window?: { low: number; high: number; guarded: { low: number; high: number } };
  /** Lowest and highest pressure of the sweep. */
  tested: { low: number; high: number };
  makerRange?: { low: number; high: number };
  limits: Limits;
  plan: LightOffPlan;
  /** Length of the trial for ignition, seconds. */
  trialSeconds: number;
  /** The trials that count, each with the result that counts, in the order in which they were made. */
  trials: readonly CountedTrial[];
  /** Whether the pressure of a trial moved while its flame was lit, so that it lit at no one pressure. */
  moved: (trial: CountedTrial) => boolean;
  /** What must be settled before any trial is made, in sentences. */
  obstacles: readonly string[];
  /** What to know beside the advice, in sentences. */
  notes: readonly string[];
}

/** The limits of a setup in a unit, with the default number of failures. */
export function limitsFrom({ trialLimits }: Setup, unit: PressureUnit): Limits {
  const { low, high, longestDelay_s, mostFailures = setupDefaults.mostFailures, method } = trialLimits ?? {};
  return {
    ...(low && { low: convertPressure(low.value, low.unit, unit) }),
    ...(high && { high: convertPressure(high.value, high.unit, unit) }),
    ...(longestDelay_s !== undefined && { longestDelayS: longestDelay_s }),
    mostFailures,
    ...(method && { method }),
  };
}

/** What maker and agreed limits allow together, with an end only where one of them gives it. */
export function allowedRange({ makerRange, limits }: Pick<Situation, 'makerRange' | 'limits'>): Range {
  const lows = [makerRange?.low, limits.low].filter((value) => value !== undefined);
  const highs = [makerRange?.high, limits.high].filter((value) => value !== undefined);
  return {
    ...(lows.length > 0 && { low: Math.max(...lows) }),
    ...(highs.length > 0 && { high: Math.min(...highs) }),
  };
}
