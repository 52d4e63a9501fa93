import { z } from 'zod';
import { flameStates, gasStates, phaseNames, regulatorStates } from '../burner-words.ts';
import { Lighting } from './lighting.ts';
import { LightingView } from './lighting-view.ts';
import { setPointRules } from '../setup.ts';
import { PressureUnit, SignalUnit } from '../units.ts';

const interval = z.tuple([z.number(), z.number()]);
const estimate = z.object({ value: z.number(), ci: interval });

/** What may set an end of the window. */
export const causes = ['signal', 'unsteady', 'flame-lost', 'light-off', 'maker-range', 'tested-end'] as const;
export type Cause = (typeof causes)[number];

/** Which ends were found; `none`: no pressure is good. */
export const intervalStatuses = ['bounded', 'open-low', 'open-high', 'open-both', 'none'] as const;
export type IntervalStatus = (typeof intervalStatuses)[number];

const signalEnd = z.object({ value: z.number(), ci: interval, bounded: z.boolean() });
const windowEnd = z.object({
  value: z.number(),
  ci: interval,
  /** The innermost guarded value of all evidence, which may be that of other evidence than `cause`. */
  guarded: z.number(),
  /** The same moved outward: the innermost of all evidence. A setting beyond it fails. */
  guardedOutward: z.number().optional(),
  cause: z.enum(causes),
  guardedBy: z.enum(causes).optional(),
});
export type WindowEnd = z.infer<typeof windowEnd>;

/** Non-binary statement on a setting, ILAC-G8:09/2019. */
export const decisions = ['pass', 'conditional-pass', 'conditional-fail', 'fail'] as const;
export type Decision = (typeof decisions)[number];

/** Light-off trials of one kind at a setting; `lowerBound` of the probability to light, one-sided at the result's confidence. */
const trialCount = z.object({ trials: z.number().int(), lit: z.number().int(), lowerBound: z.number() });
/** Trials within `tolerance` of a pressure, plain and with the spark delayed by at least half of the trial for ignition. */
const lightOffAt = z.object({
  pressure: z.number(),
  tolerance: z.number(),
  plain: trialCount,
  delayed: trialCount.extend({ longestDelay_s: z.number().optional() }),
  /** Those whose spark is neither: at an unknown moment, or delayed by less than that. Absent where there are none. */
  neither: z.object({ trials: z.number().int(), lit: z.number().int() }).optional(),
});

/** What a technician should know before trusting a result: the code for programs, the sentence for people. */
export const AnalysisWarning = z.object({ code: z.string(), message: z.string() });
export type AnalysisWarning = z.infer<typeof AnalysisWarning>;

/** A stretch of the capture in which nothing changed, told with hindsight; the capture's own seconds. */
const phaseSpan = z.object({
  from_s: z.number(),
  to_s: z.number(),
  gas: z.enum(gasStates),
  flame: z.enum(flameStates),
  regulator: z.enum(regulatorStates),
  phase: z.enum(phaseNames),
  /** The lower of the probabilities of `gas` and `flame`. */
  probability: z.number(),
});
export type PhaseSpan = z.infer<typeof phaseSpan>;

/** How the pressure with the pilot valve shut and the fan running is known. */
export const fanOnlyBases = ['entered', 'measured', 'estimated', 'unknown'] as const;

/**
 * The result of an analysis as other programs read it: `pilot-bench/analysis@1`. Pressures in `pressureUnit` as gauge readings,
 * signals in `signalUnit`. A key is absent where the sweep does not show that part (never a made-up number).
 */
export const AnalysisResult = z.object({
  schema: z.literal('pilot-bench/analysis@1'),
  pressureUnit: PressureUnit,
  signalUnit: SignalUnit,
  confidence: z.number(),
  readings: z.object({
    pressure: z.number().int(),
    signal: z.number().int(),
    flagged: z.number().int(),
    rejected: z.number().int(),
  }),
  lag_s: estimate,
  plateau: estimate,
  requiredSignal: z.object({ value: z.number(), basis: z.enum(['minimum-signal', 'drop-fraction']) }),
  signalInterval: z.object({
    status: z.enum(intervalStatuses),
    low: signalEnd.optional(),
    high: signalEnd.optional(),
  }),
  window: z.object({
    status: z.enum(intervalStatuses),
    low: windowEnd.optional(),
    high: windowEnd.optional(),
  }),
  setPoint: z
    .object({
      value: z.number(),
      rule: z.enum(setPointRules),
      provisional: z.boolean(),
      marginLow: z.number(),
      marginHigh: z.number(),
      withinMakerRange: z.boolean(),
    })
    .optional(),
  asLeft: z
    .object({
      value: z.number(),
      /** Absent where there is no window. */
      marginLow: z.number().optional(),
      marginHigh: z.number().optional(),
      decision: z.enum(decisions),
      /**
       * What keeps the decision from being a better one, when it is not a pass: the evidence for an end that is too near, `light-off` where
       * it is not proved, `signal` where the readings leave doubt.
       */
      limitedBy: z.array(z.enum(causes)).optional(),
    })
    .optional(),
  lightOff: z
    .object({
      trials: z.number().int(),
      lit: z.number().int(),
      lowerBound: z.number(),
      confidence: z.number(),
      atSetPoint: lightOffAt.optional(),
      atAsLeft: lightOffAt.optional(),
      /** Whether the setup's `lightOffPlan` is met as left, or at the set point where there is no as-left. */
      planMet: z.boolean().optional(),
      /** Probability of lighting by logistic regression. */
      model: Lighting.optional(),
    })
    .optional(),
  hysteresis: z.object({ pressure: z.number() }).optional(),
  /** What the burner did, over the whole capture without a gap. */
  phases: z.array(phaseSpan).optional(),
  /** `value` in `pressureUnit`; absent where it is unknown. */
  fanOnlyPressure: z.object({ value: z.number().optional(), basis: z.enum(fanOnlyBases) }).optional(),
  /**
   * Where the flame was lost with gas on and came back by itself, one entry for each time. `atRest`: the regulator stood still, so that it may
   * have been a spark that is not on record.
   */
  flameHysteresis: z
    .array(
      z.object({
        side: z.enum(['low', 'high']),
        lostAt: z.number(),
        returnedAt: z.number(),
        atRest: z.literal(true).optional(),
      }),
    )
    .optional(),
  /**
   * Times at which the signal fell below what is required at a good pressure and came back by itself, or stayed low until gas
   * was shut or the pressure left the window; `least`: lowest signal; `range`: lowest and highest pressure, where it was turned meanwhile.
   */
  excursions: z
    .array(
      z.object({
        at_s: z.number(),
        seconds: z.number(),
        pressure: z.number(),
        least: z.number(),
        range: z.tuple([z.number(), z.number()]).optional(),
      }),
    )
    .optional(),
  /**
   * What to add to a reading to take off the zero of its meter, in `pressureUnit` and `signalUnit`. Not applied: every other number is as
   * the meter displays it.
   */
  corrections: z.object({ pressure: z.number().optional(), signal: z.number().optional() }).optional(),
  warnings: z.array(AnalysisWarning),
  /** What is worth knowing and asks for nothing: warnings no more, once light-off is proved at the setting. */
  findings: z.array(AnalysisWarning),
});
export type AnalysisResult = z.infer<typeof AnalysisResult>;

const numbers = z.custom<Float64Array>((value) => value instanceof Float64Array, 'must be a Float64Array');

/** How the result was found, for people: the shape of the curve, its fit, and what each step left out or noticed. */
export const Explanation = z.object({
  /** The shape of the curve that was chosen, in words, e.g. "two shoulders". */
  model: z.string(),
  /** Why the search for the curve ended, in words, and whether it converged. */
  stop: z.string(),
  converged: z.boolean(),
  /** Readings of the signal that the curve was fitted to, and their effective sample size. */
  fitted: z.number().int(),
  independent: z.number(),
  /** Robust standard deviation of the readings about the curve. */
  residualSd: z.number(),
  /** Distance from a curve that only has to rise and then fall, as a share of the plateau. */
  misfit: z.number(),
  /** Self-check of the detector: seconds from pulse to pulse, seconds of one, and how many. */
  selfCheck: z.object({ periodS: z.number(), widthS: z.number(), pulses: z.number().int() }).optional(),
  /** Readings that were left out, by reason. */
  leftOut: z.object({
    /** Flagged by the meter: no number. */
    flagged: z.number().int(),
    /** Jumped away and came straight back. */
    spikes: z.number().int(),
    /** Their time lies far outside the sweep. */
    wrongTime: z.number().int(),
    /** Inside a pulse of the detector's self-check. */
    selfCheck: z.number().int(),
    /** Before the first gas, and after the last. */
    idle: z.number().int(),
    /** The pilot gas was shut, or was being shut. */
    gasShut: z.number().int(),
    /** Gas flowed again and the flame was being lit. */
    relighting: z.number().int(),
    /** Gas flowed unlit after the flame was lost. */
    unlit: z.number().int(),
    /** A meter was frozen, overloaded or silent. */
    meterTrouble: z.number().int(),
    /** The signal fell amid good pressures and came back by itself, until it had settled. */
    dropOut: z.number().int(),
    /** The manometer was silent. */
    pressureUnknown: z.number().int(),
  }),
  /**
   * Shift between turning in and turning out, in pressure; positive when turning in shows the ends at higher pressures. Absent
   * when one way only was swept.
   */
  hysteresis: z.number().optional(),
  /**
   * How far the plateau signal drifted in time at the same pressures; absent where time and pressure cannot be distinguished.
   */
  drift: z.object({ change: z.number(), ci: interval, confidence: z.number(), overS: z.number() }).optional(),
  /** Seconds by which the manometer itself lags, as a first-order system; absent where the sweep shows nothing of it. */
  manometerLagS: z.number().optional(),
  /** How fast the pressure settles after a turn of the regulator; absent where the sweep does not show it. */
  stepResponse: z
    .object({
      /** Median seconds from the first movement until the pressure stays within the band: the regulator is no slower. */
      settleS: z.number(),
      turns: z.number().int(),
      /** Half width of the band, as a share of the step. */
      band: z.number(),
      /** How far the pressure went beyond its new level, as a share of the step, when that is more than the band. */
      overshoot: z.number().optional(),
    })
    .optional(),
});
export type Explanation = z.infer<typeof Explanation>;

/**
 * What stands behind the result, for the screen and the report to show and explain. Same units as the result.
 * Arrays of one group have the same length.
 */
export const AnalysisDetail = z.object({
  result: AnalysisResult,
  /** The (pressure, signal) pairs that were used, lag removed; `direction` is +1 turning in, -1 turning out, 0 at rest. */
  pairs: z.object({ elapsedS: numbers, pressure: numbers, signal: numbers, direction: numbers }),
  /** The steady-state curve on a grid over the tested pressures, with its pointwise interval. */
  curve: z.object({
    pressure: numbers,
    signal: numbers,
    low: numbers,
    high: numbers,
    /** Which model it is, in words for people, e.g. "two shoulders". */
    model: z.string(),
    residualSd: z.number(),
  }),
  /** Every piece of evidence for an end; the window's end is the innermost of its side. */
  evidence: z.array(
    z.object({
      side: z.enum(['low', 'high']),
      cause: z.enum(causes),
      value: z.number(),
      ci: interval.optional(),
      /** Sentence: why this evidence puts an end here. */
      message: z.string(),
      sets: z.boolean(),
    }),
  ),
  testedRange: interval,
  /** Absent without trials whose spark is known. */
  lighting: LightingView.optional(),
  noise: z.object({ plateauSd: z.number() }),
  /** How probable it is that the as-left pressure lies in the window (JCGM 106:2012, 7); beside the decision on it. Absent where two trials set an end. */
  conformance: z.object({ probability: z.number() }).optional(),
  explanation: Explanation,
});
export type AnalysisDetail = z.infer<typeof AnalysisDetail>;

/**
 * `before` / `after` are null where that sweep does not show the quantity; then `change` and `ci` are null and nothing is
 * significant.
 */
const changed = z.object({
  before: z.number().nullable(),
  after: z.number().nullable(),
  change: z.number().nullable(),
  ci: interval.nullable(),
  significant: z.boolean(),
});

/** What is compared between two sweeps. */
export const comparedQuantities = ['lowEdge', 'highEdge', 'plateau', 'windowWidth', 'noise', 'lag'] as const;
export type ComparedQuantity = (typeof comparedQuantities)[number];

/** Two sweeps compared: `pilot-bench/comparison@1`. Units are those of the later sweep. */
export const ComparisonResult = z.object({
  schema: z.literal('pilot-bench/comparison@1'),
  pressureUnit: PressureUnit,
  signalUnit: SignalUnit,
  confidence: z.number(),
  lowEdge: changed,
  highEdge: changed,
  plateau: changed,
  windowWidth: changed,
  noise: changed,
  lag: changed,
  /** The old as-left pressure (or set point) in the new window, when both are known. */
  oldSetPoint: z
    .object({
      value: z.number(),
      marginLow: z.number(),
      marginHigh: z.number(),
      decision: z.enum(decisions),
    })
    .optional(),
  summary: z.array(z.string()),
  warnings: z.array(AnalysisWarning),
});
export type ComparisonResult = z.infer<typeof ComparisonResult>;

/** A comparison with what stands behind each of its sweeps. */
export const ComparisonDetail = z.object({
  result: ComparisonResult,
  before: AnalysisDetail,
  after: AnalysisDetail,
});
export type ComparisonDetail = z.infer<typeof ComparisonDetail>;
