import type { Explanation } from '../model/analysis-result.ts';
import type { Capture } from '../model/capture.ts';
import { fault } from '../model/faults.ts';
import { formatPressure } from '../model/format.ts';
import { fail, ok, type Outcome } from '../model/outcome.ts';
import { type Setup, setupDefaults } from '../model/setup.ts';
import { convertPressure, convertSignal } from '../model/units.ts';
import { clean } from './sweep/clean.ts';
import { resolutionOf } from './sweep/meter-noise.ts';
import { type Contradictions, findContradictions } from './window/contradictions.ts';
import { type Dip, findDip } from './window/dips.ts';
import { type Drift, driftOf } from './window/drift.ts';
import { type Estimate, bootstrapInterval, addUncertainty } from './curve/estimate.ts';
import { bootstrap, blockLength } from './curve/bootstrap.ts';
import { initialEstimates, longestLag } from './sweep/initial-estimates.ts';
import { fitCurve } from './curve/fit-curve.ts';
import type { CurveFit } from './curve/fit-shape.ts';
import { distanceFromFreeCurve, freeSignalInterval, residualsOfCurve } from './window/free-curve.ts';
import { findDarkStretches, whileGasFlows } from './sweep/flame-loss.ts';
import { hysteresisOf } from './curve/hysteresis.ts';
import { correlationTime, type Crossing, crossingsOf } from './curve/effective-sample-size.ts';
import {
  digitUncertainty,
  momentUncertainty,
  pressureUncertainty,
  requiredSignalUncertainty,
} from './window/meter-uncertainty.ts';
import { judgeTrials, type LightOff } from './window/light-off.ts';
import { pairReadings, type Pairs, testedPressures, typicalMovement, whilePressureKnown } from './sweep/pairs.ts';
import { pressureAt, pressureGrid } from './sweep/pressure-grid.ts';
import { extent } from '../numerics/descriptive.ts';
import { collectSweep, leastPairs, type Sweep } from './sweep/collect.ts';
import { keepOnly, subsample, averageBlocks, typicalStep } from './sweep/series.ts';
import type { SelfCheck } from './sweep/self-check.ts';
import { roughNoise } from './sweep/meter-noise.ts';
import { findSignalInterval, type SignalInterval } from './window/signal-interval.ts';
import { type StepResponse, stepResponseOf } from './sweep/step-response.ts';
import { findUnsteady, type UnsteadyEnd } from './window/steadiness.ts';
import { findWindow, type Window } from './window/window.ts';

/** Every intermediate result of one sweep, from which answers, comparisons and explanations are made. */
export interface Study {
  sweep: Sweep;
  setup: Setup;
  confidence: number;
  leftOut: Explanation['leftOut'];
  selfCheck?: SelfCheck;
  curve: CurveFit;
  pairs: Pairs;
  tested: [number, number];
  lag: Estimate;
  interval: SignalInterval;
  steadiness: { plateauSd: number; plateauCount: number; ends: UnsteadyEnd[] };
  /** Pressures between good ones where the signal is not good enough. */
  dip: Dip | undefined;
  /** Independent readings behind the plateau's scatter. */
  noiseDegrees: number;
  lightOff: LightOff | undefined;
  /** Evidence that speaks against the rest. */
  contradictions: Contradictions;
  makerRange: { low: number; high: number } | undefined;
  fanOnly: number;
  hysteresis: number | undefined;
  /** How the plateau signal crept in time. */
  drift: Drift | undefined;
  /** How fast the pressure settles after a turn of the regulator. */
  stepResponse: StepResponse | undefined;
  /** Distance of the fit from a curve that only has to rise and then fall, as a share of the plateau. */
  misfit: number;
  /** Whether the model follows the readings; else plateau, ends and drawn curve are those of the free curve. */
  modelFits: boolean;
  /** What the drawn curve, whichever it is, leaves of each reading; in the signal's unit. */
  residual: Float64Array;
  window: Window;
}

/** Most readings of the signal that the fit works on; more are averaged in runs first. */
const mostReadings = 3000;
/** A shoulder takes 0.1 to 0.5 inH2O (common practice); what falls within less than this is a flame that was lost. */
const cliffInH2O = 0.06;
/** A deviation from the median absolute deviation is worth this share of its readings (Rousseeuw and Croux 1993, JASA 88, 1273). */
const madEfficiency = 0.37;
/** Size of the coarse picture on which the shape is chosen. */
const coarseReadings = 700;
const coarsePoints = 1000;

/** A twentieth of the plateau: half the drop that sets the ends, and beyond what a restless flame leaves. */
const mostMisfit = 0.05;

/** The least share of the middle pressure that a sweep must span to say anything: below that it is one pressure. */
const leastSpan = 0.03;

/**
 * Goes through one sweep step by step. The order is the table of contents of the analysis.
 * Fails with `no-pressure`, `no-signal`, `too-few-pairs`, `one-pressure`.
 */
export function study(capture: Capture, setup: Setup): Outcome<Study> {
  const confidence = setup.confidence ?? setupDefaults.confidence;
  const dropFraction = setup.signalDropFraction ?? setupDefaults.signalDropFraction;
  const seed = setup.seed ?? setupDefaults.seed;
  const collected = collectSweep(capture);
  if (!collected.ok) return collected;
  const sweep = collected.value;

  const pressure = (value: number, unit = sweep.pressureUnit) => convertPressure(value, unit, sweep.pressureUnit);
  const fanOnly = setup.fanOnlyPressure ? pressure(setup.fanOnlyPressure.value, setup.fanOnlyPressure.unit) : 0;

  const cleaned = clean(sweep.pressure, sweep.signal);
  const grid = pressureGrid(cleaned.pressure, typicalStep(cleaned.signal));
  const flowing = whileGasFlows(grid, cleaned.signal, 3, fanOnly);
  const known = whilePressureKnown(grid, cleaned.signal.time);
  const usable = keepOnly(
    cleaned.signal,
    flowing.map((keep, i) => keep & known[i]!),
  );
  if (usable.time.length < leastPairs)
    return fail(fault('too-few-pairs', { pairs: usable.time.length, least: leastPairs }));
  const signal = averageBlocks(usable, mostReadings);

  const span = testedPressures(grid, signal, 0);
  const middle = (span[0] + span[1]) / 2;
  if (!(span[1] - span[0] > leastSpan * Math.abs(middle)))
    return fail(fault('one-pressure', { pressure: formatPressure(middle, sweep.pressureUnit) }));

  const look = initialEstimates(grid, signal);
  const dark = findDarkStretches(signal, look, roughNoise(signal));
  const scale = { middle, half: (span[1] - span[0]) / 2 };
  const few = subsample(signal, coarseReadings);
  const coarseGrid = pressureGrid(cleaned.pressure, typicalStep(few), coarsePoints);
  const curve = fitCurve(
    { scene: { grid: coarseGrid, times: few.time, scale }, signal: few },
    { scene: { grid, times: signal.time, scale }, signal },
    look,
    dark,
  );

  // Below zero: the manometer lags behind the flame signal. It is told as no delay, but reckoned with.
  const lagValue = curve.fit.parameters[curve.layout.lag]!;
  const tested = testedPressures(grid, signal, lagValue);
  const pairs = pairReadings(grid, signal, lagValue, scale.half);
  const correlationS = correlationTime(curve, signal.time);
  const replicates = bootstrap(curve, signal.time, correlationS, seed);
  const stretchS = blockLength(correlationS);
  const crossing = crossingsOf(curve, signal.time, pairs.pressure);
  // Independent stretches that bear an end, less the two parameters of its shoulder; and no more than readings leave.
  const degreesOf = ({ seconds, readings }: Crossing) =>
    Math.max(1, Math.min(Math.max(4, seconds / stretchS - 2), readings - 3));
  const { low, high } = crossing;
  const degrees = degreesOf({ seconds: low.seconds + high.seconds, readings: low.readings + high.readings });
  const lags = Float64Array.from({ length: replicates.count }, (_, b) =>
    Math.max(0, replicates.parameters[b * replicates.size + curve.layout.lag]!),
  );
  const minimum =
    setup.minimumSignal && convertSignal(setup.minimumSignal.value, setup.minimumSignal.unit, sweep.signalUnit);
  const momentU = momentUncertainty(sweep);
  const fitted = findSignalInterval({
    momentU,
    fit: curve,
    replicates,
    grid,
    tested,
    dropFraction,
    minimum,
    confidence,
    degrees: { low: degreesOf(low), high: degreesOf(high), both: degrees },
    cliffWidth: convertPressure(cliffInH2O, 'inH2O', sweep.pressureUnit),
  });

  const misfit = distanceFromFreeCurve(
    pairs.pressure,
    pairs.signal,
    curve.predicted,
    tested,
    fitted.plateau.value,
    signal.time.length / curve.effective,
    look.digit,
  );
  const modelFits = misfit <= mostMisfit;
  const found = modelFits
    ? fitted
    : freeSignalInterval({
        ...pairs,
        tested,
        dropFraction,
        minimum,
        confidence,
        stretchS,
        degrees,
        seed,
      });
  const residual = modelFits ? curve.residual : residualsOfCurve(found.curve, pairs.pressure, pairs.signal);
  const quiet = roughNoise(usable);
  const digitU = digitUncertainty(resolutionOf(cleaned.pressure.value), typicalMovement(pairs));
  const interval = {
    ...found,
    ...(found.low?.bounded && { low: { ...found.low, ...addUncertainty(found.low, digitU, confidence) } }),
    ...(found.high?.bounded && { high: { ...found.high, ...addUncertainty(found.high, digitU, confidence) } }),
    plateau: addUncertainty(found.plateau, digitUncertainty(resolutionOf(usable.value), quiet), confidence),
  };
  const inside: [number, number] = [interval.low?.value ?? tested[0], interval.high?.value ?? tested[1]];
  const steadiness = findUnsteady(pairs.pressure, residual, inside, interval.plateau.value);
  const dip =
    interval.low && interval.high
      ? findDip(pairs.pressure, pairs.signal, inside, interval.required.value, signal.time.length / curve.effective)
      : undefined;
  const lightOff = judgeTrials(capture.trials, sweep.pressureUnit, (inside[0] + inside[1]) / 2, confidence);
  const range = setup.makerPressureRange;
  const makerRange = range && { low: pressure(range.low, range.unit), high: pressure(range.high, range.unit) };
  const window = findWindow({
    unit: sweep.pressureUnit,
    interval,
    unsteady: steadiness.ends,
    dip,
    lightOff,
    makerRange,
    confidence,
    pressureU: (value) => pressureUncertainty(setup, sweep.pressureUnit, value),
    signalU: requiredSignalUncertainty(setup, sweep.signalUnit, interval.required, dropFraction),
  });

  return ok({
    sweep,
    setup,
    confidence,
    leftOut: {
      ...cleaned.leftOut,
      flagged: sweep.counts.flagged,
      gasShut: flowing.filter((keep) => keep === 0).length,
      pressureUnknown: known.filter((keep, i) => keep === 0 && flowing[i] === 1).length,
    },
    ...(cleaned.selfCheck && { selfCheck: cleaned.selfCheck }),
    curve,
    pairs,
    tested,
    lag: lagDoubt(bootstrapInterval(Math.max(0, lagValue), lags, confidence, degrees), curve, momentU, confidence),
    interval,
    steadiness,
    dip,
    noiseDegrees: Math.max(2, (madEfficiency * steadiness.plateauCount * curve.effective) / signal.time.length),
    lightOff,
    contradictions: findContradictions({
      trials: capture.trials,
      unit: sweep.pressureUnit,
      trialSeconds: setup.pilotTrialSeconds ?? setupDefaults.pilotTrialSeconds,
      interval,
      contradicting: lightOff?.contradicting ?? [],
      dark,
      ...pairs,
      pressureAt: (elapsedS) => pressureAt(grid, elapsedS),
      tested,
    }),
    makerRange,
    fanOnly,
    misfit,
    modelFits,
    residual,
    hysteresis: hysteresisOf(curve, pairs.pressure, pairs.direction),
    stepResponse: stepResponseOf(cleaned.pressure),
    drift: driftOf(pairs.elapsedS, pairs.pressure, residual, flatPart(interval), Math.max(confidence, 0.99)),
    window,
  });
}

/** A sweep without a shoulder says nothing of the lag, whatever its noise would like: all that was looked for is possible. */
function lagDoubt(lag: Estimate, curve: CurveFit, momentU: number, confidence: number): Estimate {
  if (!curve.shape.lowShoulder && !curve.shape.highShoulder)
    return { ...lag, deviation: longestLag / Math.sqrt(12), ci: [0, longestLag] };
  const wide = addUncertainty(lag, momentU, confidence);
  return { ...wide, ci: [Math.max(0, wide.ci[0]), wide.ci[1]] };
}

/** Pressures at which the steady curve lies less than a third of the allowed drop below its top: away from the shoulders. */
function flatPart({ curve, plateau, required }: SignalInterval): [number, number] {
  const least = plateau.value - Math.abs(plateau.value - required.value) / 3;
  return extent(curve.pressure.filter((_, i) => curve.signal[i]! >= least));
}
