import { exp } from '../model/elementary.ts';
import type { Explanation } from '../model/analysis-result.ts';
import type { Capture } from '../model/capture.ts';
import { fault } from '../model/faults.ts';
import { formatPressure } from '../model/format.ts';
import { fail, ok, type Outcome } from '../model/outcome.ts';
import { type Setup, setupDefaults } from '../model/setup.ts';
import { convertPressure, convertSignal } from '../model/units.ts';
import { clean, quantum } from './clean.ts';
import { type Contradictions, findContradictions } from './contradictions.ts';
import { type Drift, driftOf } from './drift.ts';
import { type Doubtful, doubtOf, drawReplicates, widen } from './doubt.ts';
import { firstLook, longestLag } from './first-look.ts';
import { fitCurve } from './fit-curve.ts';
import type { CurveFit } from './fit-shape.ts';
import { distanceFromFreeCurve, freeSignalInterval } from './free-curve.ts';
import { findDarkStretches, whileGasFlows } from './flame-out.ts';
import { hysteresisOf } from './hysteresis.ts';
import { pressureUncertainty, signalUncertainty } from './instruments.ts';
import { judgeTrials, type LightOff } from './light-off.ts';
import { correlationInflation } from './moments.ts';
import { pressureAt, type PressureGrid, pressureGrid } from './pressure-grid.ts';
import { extent, median } from './robust.ts';
import { collectSweep, keepOnly, leastPairs, pick, type Series, type Sweep, thin, typicalStep } from './series.ts';
import type { SelfCheck } from './self-check.ts';
import { roughNoise } from './signal-noise.ts';
import { findSignalInterval, type SignalInterval } from './signal-interval.ts';
import { type StepResponse, stepResponseOf } from './step-response.ts';
import { findUnsteady, type UnsteadyEnd } from './steadiness.ts';
import { findWindow, type Window } from './window.ts';

/** Readings laid together, lag removed; equal lengths. */
export interface Pairs {
  elapsedS: Float64Array;
  pressure: Float64Array;
  signal: Float64Array;
  /** +1 turning in (pressure rises), -1 turning out, 0 at rest. */
  direction: Float64Array;
}

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
  lag: Doubtful;
  interval: SignalInterval;
  steadiness: { plateauSd: number; plateauCount: number; ends: UnsteadyEnd[] };
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
  const collected = collectSweep(capture);
  if (!collected.ok) return collected;
  const sweep = collected.value;

  const cleaned = clean(sweep.pressure, sweep.signal);
  const grid = pressureGrid(cleaned.pressure, typicalStep(cleaned.signal));
  const flowing = whileGasFlows(grid, cleaned.signal, 3);
  const known = whilePressureKnown(grid, cleaned.signal.time);
  const usable = keepOnly(
    cleaned.signal,
    flowing.map((keep, i) => keep & known[i]!),
  );
  if (usable.time.length < leastPairs)
    return fail(fault('too-few-pairs', { pairs: usable.time.length, least: leastPairs }));
  const signal = thin(usable, mostReadings);

  const span = testedPressures(grid, signal, 0);
  const middle = (span[0] + span[1]) / 2;
  if (!(span[1] - span[0] > leastSpan * Math.abs(middle)))
    return fail(fault('one-pressure', { pressure: formatPressure(middle, sweep.pressureUnit) }));

  const look = firstLook(grid, signal);
  const dark = findDarkStretches(signal, look);
  const scale = { middle, half: (span[1] - span[0]) / 2 };
  const few = pick(signal, coarseReadings);
  const coarseGrid = pressureGrid(cleaned.pressure, typicalStep(few), coarsePoints);
  const curve = fitCurve(
    { scene: { grid: coarseGrid, times: few.time, scale }, signal: few },
    { scene: { grid, times: signal.time, scale }, signal },
    look,
    dark,
  );

  const lagValue = Math.max(0, curve.fit.parameters[curve.layout.lag]!);
  const tested = testedPressures(grid, signal, lagValue);
  const pairs = pairUp(grid, signal, lagValue, scale.half);
  const correlationS = correlationTime(curve, signal.time);
  const replicates = drawReplicates(curve, signal.time, correlationS, setup.seed ?? setupDefaults.seed);
  const stretchS = Math.max(2, 8 * correlationS);
  const seconds = crossingSeconds(curve, signal.time, pairs.pressure);
  // Independent stretches that bear an end, less the two parameters of its shoulder.
  const degreesOf = (s: number) => Math.max(4, s / stretchS - 2);

  const degrees = degreesOf(seconds.low + seconds.high);
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
    dropFraction: setup.signalDropFraction ?? setupDefaults.signalDropFraction,
    minimum,
    confidence,
    degrees: { low: degreesOf(seconds.low), high: degreesOf(seconds.high), both: degrees },
    cliffWidth: convertPressure(cliffInH2O, 'inH2O', sweep.pressureUnit),
  });

  const misfit = distanceFromFreeCurve(pairs.pressure, pairs.signal, curve.predicted, tested, fitted.plateau.value);
  const modelFits = misfit <= mostMisfit;
  const found = modelFits
    ? fitted
    : freeSignalInterval({
        ...pairs,
        tested,
        dropFraction: setup.signalDropFraction ?? setupDefaults.signalDropFraction,
        minimum,
        confidence,
        stretchS,
        degrees,
        seed: setup.seed ?? setupDefaults.seed,
      });
  const quiet = roughNoise(usable);
  const interval = {
    ...found,
    plateau: widen(found.plateau, digitUncertainty(quantum(usable.value), quiet), confidence),
  };
  const inside: [number, number] = [interval.low?.value ?? tested[0], interval.high?.value ?? tested[1]];
  const steadiness = findUnsteady(pairs.pressure, curve.residual, inside, interval.plateau.value);
  const lightOff = judgeTrials(capture.trials, sweep.pressureUnit, (inside[0] + inside[1]) / 2, confidence);
  const pressure = (value: number, unit = sweep.pressureUnit) => convertPressure(value, unit, sweep.pressureUnit);
  const range = setup.makerPressureRange;
  const makerRange = range && { low: pressure(range.low, range.unit), high: pressure(range.high, range.unit) };
  const window = findWindow({
    unit: sweep.pressureUnit,
    interval,
    unsteady: steadiness.ends,
    lightOff,
    makerRange,
    confidence,
    pressureU: (value) => pressureUncertainty(setup, sweep.pressureUnit, value),
    signalU: requiredSignalUncertainty(setup, sweep, interval),
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
    lag: lagDoubt(doubtOf(lagValue, lags, confidence, degrees), curve, momentU, confidence),
    interval,
    steadiness,
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
    fanOnly: setup.fanOnlyPressure ? pressure(setup.fanOnlyPressure.value, setup.fanOnlyPressure.unit) : 0,
    misfit,
    modelFits,
    hysteresis: hysteresisOf(curve, pairs.pressure, pairs.direction),
    stepResponse: stepResponseOf(cleaned.pressure),
    drift: driftOf(pairs.elapsedS, pairs.pressure, curve.residual, flatPart(interval), Math.max(confidence, 0.99)),
    window,
  });
}

/** 1 for readings whose pressure is known: not inside a gap of the manometer, nor before or after it spoke. */
function whilePressureKnown(grid: PressureGrid, times: Float64Array): Uint8Array {
  const last = grid.pressure.length - 1;
  return Uint8Array.from(times, (t) => {
    const place = (t - grid.startS) / grid.stepS;
    // Half a second over the ends: two meters never begin at the same moment.
    if (place < -0.5 / grid.stepS || place > last + 0.5 / grid.stepS) return 0;
    return grid.known[Math.min(last, Math.max(0, Math.round(place)))]!;
  });
}

/** Lowest and highest pressure that readings of the signal belong to. */
function testedPressures(grid: PressureGrid, signal: Series, lagS: number): [number, number] {
  return extent(signal.time.map((t) => pressureAt(grid, t - lagS)));
}

function pairUp(grid: PressureGrid, signal: Series, lagS: number, half: number): Pairs {
  // Seen over a second, or over a four-hundredth of a long sweep on each side; less than a two-hundredth of the half range is
  // a hand at rest (common practice).
  const look = Math.max(0.5, (signal.time.at(-1)! - signal.time[0]!) / 400);
  const rest = half / 200;
  const direction = signal.time.map((t) => {
    const rate = pressureAt(grid, t - lagS + look) - pressureAt(grid, t - lagS - look);
    return Math.abs(rate) < rest ? 0 : Math.sign(rate);
  });
  return {
    elapsedS: signal.time,
    pressure: signal.time.map((t) => pressureAt(grid, t - lagS)),
    signal: signal.value,
    direction,
  };
}

/**
 * Seconds over which the standardised residuals stay correlated. Flicker lives on the shoulders, where the ends are
 * decided; the plateau's own noise, mostly the meter's, must not dilute it.
 */
function correlationTime(curve: CurveFit, times: Float64Array): number {
  const n = times.length;
  const step = (times[n - 1]! - times[0]!) / (n - 1);
  const standard = curve.residual.map((value, i) => value * curve.weight[i]!);
  const onShoulder = shareOf(curve).map((share) => Number(share > 0.1 && share < 0.97));
  const inflation = Math.max(n / curve.effective, correlationInflation(standard, onShoulder));
  // An exponential correlation of time T inflates the variance 2 T / step times.
  return Math.min(4, (step * inflation) / 2);
}

/** Height of each predicted signal between the least, 0, and the greatest, 1. */
function shareOf(curve: CurveFit): Float64Array {
  const [low, high] = extent(curve.predicted);
  return curve.predicted.map((value) => (value - low) / (high - low || 1));
}

/** Seconds the sweep spent on the low and on the high shoulder, where the ends are decided. */
function crossingSeconds(curve: CurveFit, times: Float64Array, pressure: Float64Array): { low: number; high: number } {
  const share = shareOf(curve);
  const good = median(pressure.filter((_, i) => share[i]! >= 0.97));
  const seconds = { low: 0, high: 0 };
  for (let i = 1; i < times.length; i += 1)
    if (share[i]! > 0.1 && share[i]! < 0.97)
      seconds[pressure[i]! < good ? 'low' : 'high'] += Math.min(2, times[i]! - times[i - 1]!);
  return seconds;
}

/**
 * A reading stands for some moment since the one before, and nobody knows which. Both meters average, so that most of it is
 * common to both: a quarter of the faster meter's interval, as a rectangle (JCGM 100:2008 4.3.7). Standard uncertainty in seconds.
 */
const momentUncertainty = (sweep: Sweep) =>
  Math.min(typicalStep(sweep.pressure), typicalStep(sweep.signal)) / 4 / Math.sqrt(3);

/** A sweep without a shoulder says nothing of the lag, whatever its noise would like: all that was looked for is possible. */
function lagDoubt(lag: Doubtful, curve: CurveFit, momentU: number, confidence: number): Doubtful {
  if (!curve.shape.lowShoulder && !curve.shape.highShoulder)
    return { ...lag, deviation: longestLag / Math.sqrt(12), ci: [0, longestLag] };
  const wide = widen(lag, momentU, confidence);
  return { ...wide, ci: [Math.max(0, wide.ci[0]), wide.ci[1]] };
}

/**
 * What the last digit of the signal meter leaves in doubt of a level that stands still: noise of size s dithers the steps q
 * and leaves an error of up to (q / pi) exp(-2 pi^2 s^2 / q^2), of which the root mean square is taken.
 * Source: Widrow and Kollar 2008, Quantization Noise, chapter 4 (first harmonic of the mean quantisation error).
 */
function digitUncertainty(digit: number, noise: number): number {
  if (digit === 0) return 0;
  const first = (digit / Math.PI / Math.SQRT2) * exp(-2 * (Math.PI * (noise / digit)) ** 2);
  return Math.min(first, digit / Math.sqrt(12));
}

/**
 * A minimum signal is a number of the maker's, so the whole accuracy of the meter counts. A drop from the plateau is
 * seen with the same meter: what is per cent of the reading cancels, and of the absolute part the drop fraction stays.
 */
function requiredSignalUncertainty(setup: Setup, sweep: Sweep, interval: SignalInterval): number {
  if (interval.required.basis === 'minimum-signal')
    return signalUncertainty(setup, sweep.signalUnit, interval.required.value);
  return signalUncertainty(setup, sweep.signalUnit, 0) * (setup.signalDropFraction ?? setupDefaults.signalDropFraction);
}

/** Pressures at which the steady curve lies less than a third of the allowed drop below its top: away from the shoulders. */
function flatPart({ curve, plateau, required }: SignalInterval): [number, number] {
  const least = plateau.value - Math.abs(plateau.value - required.value) / 3;
  return extent(curve.pressure.filter((_, i) => curve.signal[i]! >= least));
}
