import type { Capture, Trial } from '../model/capture.ts';
import { fault } from '../model/faults.ts';
import { fail, ok, type Outcome } from '../model/outcome.ts';
import type { Setup } from '../model/setup.ts';
import { type CountedTrial, toleranceAt } from '../light-off/at-setting.ts';
import { discardedTrials, judgedTrials, litByCorrection } from '../model/trials/valid-trials.ts';
import { quantileSorted } from '../numerics/descriptive.ts';
import { replicatesOf } from './curve/bootstrap.ts';
import { type AsLeftDoubt, asLeftDoubts } from './as-left-doubts.ts';
import { fitCurve, type FittedCurve } from './curve/fit-curve.ts';
import { hasMoved } from './moved-trials.ts';
import type { PreparedSweep } from './sweep/prepared-sweep.ts';
import { prepareSweep } from './sweep/prepare-sweep.ts';
import { isBeforePressure } from './sweep/meter-faults/clocks-apart.ts';
import { longestLag } from './sweep/series/initial-estimates.ts';
import type { Series } from './sweep/series/series.ts';
import { soundHours } from './sweep/sound-hours.ts';
import { countedFrom, firstTimeS } from './sweep/time-zero.ts';
import { type BoundedWindow, boundWindow } from './window/bound-window.ts';
import { findWeakReadings, type WeakReadings } from './window/diagnostics/weak-readings.ts';
import { findEnds, type SweepEnds } from './window/find-ends.ts';
import { findLitAndFailed, type LitAndFailed } from './window/lit-and-failed.ts';
import { expandedUncertainty } from './window/meter-uncertainty.ts';

/** Everything that is found out about one sweep, step by step: answers, comparisons and explanations are made from it. */
export interface Study extends PreparedSweep, FittedCurve, SweepEnds, BoundedWindow {
  setup: Setup;
  /** The light-off trials that count, each with the result that counts. */
  trials: Trial[];
  /** Those that were discarded. */
  discardedTrials: Trial[];
  /** Those that were entered as not lit and corrected to lit. */
  litByCorrection: Trial[];
  /** How far two pressures may lie apart and still count as one setting, in the unit of the sweep. */
  tolerance: number;
  /** Whether the pressure moved during a trial by more than one setting allows, so that it lit or failed at no one pressure. */
  hasMoved: (trial: CountedTrial) => boolean;
  /** Pressures at which trials lit and failed. */
  litAndFailed: LitAndFailed;
  /** Readings below what is required on the flat part of the curve, where they are too many. */
  weakReadings: WeakReadings | undefined;
  /** What speaks against the pressure as left in what the meters showed when it was recorded. */
  asLeftDoubts: AsLeftDoubt[];
  /** How many readings lie hours away from those that are analyzed. */
  outsideVisit: number;
}

/**
 * Goes through one sweep in four steps: prepare the sweep, fit the curve, find the ends, bound the window.
 *
 * @param setup  another setup than the capture's own, to try
 * Fails with `no-pressure`, `no-signal`, `clocks-apart`, `too-few-pairs`, `one-pressure`. The same input and seed give the same digits.
 */
export function study(whole: Capture, setup: Setup): Outcome<Study> {
  const { capture, leftOut: outsideVisit } = soundHours(whole);
  const zeroS = firstTimeS(capture);
  const counted = countedFrom(zeroS, capture);
  const prepared = prepareSweep(counted, setup);
  if (!prepared.ok) return prepared;
  const leftOut = { ...prepared.value.leftOut, wrongTime: prepared.value.leftOut.wrongTime + outsideVisit };
  const fitted = fitCurve(prepared.value);
  const sweep = { ...prepared.value, leftOut, grid: fitted.grid };
  // The search over lags cannot tell a few seconds from none in a slow sweep; the fit can. What was recorded here has one clock.
  const { layout, fit } = fitted.curve;
  const highestLagS = quantileSorted(replicatesOf(fitted.replicates, layout.lag).sort(), 0.975) - fitted.manometerLagS;
  const lagS = fit.parameters[layout.lag]! - fitted.manometerLagS;
  if (prepared.value.showsClock && (isBeforePressure(highestLagS) || lagS > longestLag))
    return fail(fault('clocks-apart', { seconds: lagS }));
  const ends = findEnds(sweep, fitted);
  const trials = judgedTrials(capture.trials, setup);
  const [from, to] = [ends.interval.low?.value ?? fitted.tested[0], ends.interval.high?.value ?? fitted.tested[1]];
  const { pressureUnit } = sweep.sweep;
  const tolerance = toleranceAt(to - from, expandedUncertainty(setup, pressureUnit, (from + to) / 2));
  const { trialSeconds, asLeft } = sweep.settings;
  const hasMovedIn = hasMoved(capture.readings, pressureUnit, trialSeconds, tolerance);
  const bounded = boundWindow(trials, (trial) => !hasMovedIn(trial), setup, sweep, fitted, ends);
  const litAndFailed = findLitAndFailed(trials, setup, ends.interval, {
    unit: pressureUnit,
    trialSeconds,
    ...(asLeft !== undefined && { asLeft: { pressure: asLeft, tolerance } }),
  });
  const doubts = asLeftDoubts(counted, sweep.tracked.spans, sweep.sweep, {
    asLeft,
    tolerance,
    required: ends.interval.required.value,
  });
  const voided = discardedTrials(capture.trials);
  const corrected = litByCorrection(capture.trials);
  const own = {
    setup,
    trials,
    discardedTrials: voided,
    litByCorrection: corrected,
    tolerance,
    hasMoved: hasMovedIn,
    litAndFailed,
    asLeftDoubts: doubts,
    weakReadings: findWeakReadings(sweep, fitted, ends),
    outsideVisit,
  };
  return ok(inSecondsOf(zeroS, { ...own, ...sweep, ...fitted, ...ends, ...bounded }));
}

/** The study with everything that is told of times in the capture's own seconds. */
function inSecondsOf(zeroS: number, found: Study): Study {
  const span = <S extends { fromS: number; toS: number }>(each: S): S => ({
    ...each,
    fromS: each.fromS + zeroS,
    toS: each.toS + zeroS,
  });
  const later = (series: Series): Series => ({ ...series, time: series.time.map((t) => t + zeroS) });
  const { tracked, pairs, frozen, sweep } = found;
  return {
    ...found,
    // What is read about a trial or a state is looked for by its time.
    sweep: { ...sweep, wholePressure: later(sweep.wholePressure), wholeSignal: later(sweep.wholeSignal) },
    tracked: {
      ...tracked,
      spans: tracked.spans.map((each) => ({ ...each, from_s: each.from_s + zeroS, to_s: each.to_s + zeroS })),
    },
    pairs: { ...pairs, elapsedS: pairs.elapsedS.map((t) => t + zeroS) },
    unclearS: found.unclearS.map((t) => t + zeroS),
    discarded: found.discarded.map(span),
    noPressure: found.noPressure.map(span),
    lossesOutside: found.lossesOutside.map((each) => ({ ...each, atS: each.atS + zeroS })),
    asLeftDoubts: found.asLeftDoubts.map((each) => ({ ...each, atS: each.atS + zeroS })),
    frozen: { pressure: frozen.pressure.map(span), signal: frozen.signal.map(span) },
    excursions: found.excursions.map((each) => ({ ...each, atS: each.atS + zeroS })),
  };
}
