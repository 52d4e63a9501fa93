import { varianceInflation } from '../../numerics/autocorrelation.ts';
import { type Fit, leastSquares } from '../../numerics/linear/least-squares.ts';
import type { DarkStretch } from '../sweep/flame/flame-loss.ts';
import { cutOff, type MeterRange, shownBy } from '../sweep/meter-faults/meter-range.ts';
import { roughNoise } from '../sweep/series/meter-noise.ts';
import type { TestedScale } from '../sweep/series/pairs.ts';
import { censored } from './censoring.ts';
import type { FitData } from './fit-data.ts';
import { isPlausibleLag } from './lag.ts';
import { createPredictor } from './predict-signal.ts';
import { offPrior, priorsFor } from './priors.ts';
import { type Layout, layoutOf, type Shape } from './model/shape.ts';
import { centerClipped, devianceOf, levelsOf, noiseModelOf, whiten } from './signal-noise.ts';
import { startFromFit, startingValues } from './starting-values.ts';

/** A steady-state curve with its lag, as fitted. Arrays have one entry for each signal reading unless said otherwise. */
export interface CurveFit {
  shape: Shape;
  layout: Layout;
  scale: TestedScale;
  fit: Fit;
  /** Readings at the ends of this range were taken for censored. */
  range: MeterRange;
  /** Predicted signal as the meter shows it, and residual, in the signal's unit. */
  predicted: Float64Array;
  residual: Float64Array;
  /** Weight by which each residual was multiplied: 1 / its expected deviation, less for outliers. */
  weight: Float64Array;
  /** Weighted residual without the part that is correlated with the one before. */
  whitenedResidual: Float64Array;
  /** -2 log likelihood per reading, without the terms that are the same for all shapes. */
  deviance: number;
  /** For each prior, how many times its deviation the bootstrap draws it with. */
  priorScale: Float64Array;
  /** Effective sample size: how many independent readings the correlated residuals amount to. */
  effectiveSize: number;
}

/** How precisely a shape is fitted, and with which noise. */
export interface FitOptions {
  /** Of the last search, relative. */
  tolerance: number;
  /**
   * Whether the noise's autocorrelation is modeled. Not where shapes are compared: what a wrong shape leaves would pass for it.
   */
  correlated: boolean;
}

/** Tolerance of a search whose answer is only the start of the next one. */
const rough = 2e-3;

/**
 * Fits one shape to the readings by generalized least squares: robust weights that follow the size of the noise at each level,
 * noise whose correlation decays with time, and weak priors.
 * Source: Aitken 1935, Proc. Royal Soc. Edinburgh 55, 42 (generalized least squares), iterated with its weights.
 *
 * @param losses  the flame losses of the shape, as many as it has
 * @param from    an earlier fit to start from; else several starting values are tried
 */
export function fitShape(
  data: FitData,
  shape: Shape,
  losses: DarkStretch[],
  from: CurveFit | undefined,
  options: FitOptions,
): CurveFit {
  const { input, signal, initial, range } = data;
  const layout = layoutOf(shape);
  const starts = from
    ? [startFromFit({ layout: from.layout, parameters: from.fit.parameters }, layout)]
    : startingValues(data, layout, losses);
  const { predict, slopes } = createPredictor(data, layout);
  const m = signal.value.length;
  const priors = priorsFor(layout, data, losses, shape.discrepancy?.size);
  const predicted = new Float64Array(m);
  let weight: Float64Array = new Float64Array(m).fill(1 / roughNoise(signal));
  let autocorrelation: Float64Array = new Float64Array(m);
  const beyond = cutOff(signal, range);
  const standardizedAt = (i: number) => {
    const off = weight[i]! * (signal.value[i]! - predicted[i]!);
    const side = beyond[i]!;
    if (side === 0) return { residual: off, slope: 1 };
    const { residual, slope } = censored(-side * off);
    return { residual: side * residual, slope };
  };
  const residuals = (x: Float64Array, into: Float64Array) => {
    predict(x, predicted);
    for (let i = 0; i < m; i += 1)
      into[i] = beyond[i] === 0 ? weight[i]! * (signal.value[i]! - predicted[i]!) : standardizedAt(i).residual;
    whiten(into, 1, autocorrelation);
    priors.forEach((prior, k) => {
      into[m + k] = offPrior(prior, x).residual;
    });
  };
  const { size } = layout;
  const jacobian = (x: Float64Array, into: Float64Array) => {
    slopes(x, into);
    const isCensored = beyond.some(Boolean);
    if (isCensored) predict(x, predicted);
    for (let i = 0, at = 0; i < m; i += 1) {
      const slope = isCensored ? weight[i]! * standardizedAt(i).slope : weight[i]!;
      for (const end = at + size; at < end; at += 1) into[at]! *= -slope;
    }
    whiten(into, size, autocorrelation);
    into.fill(0, m * size);
    priors.forEach((prior, k) => {
      const { slope } = offPrior(prior, x);
      into[(m + k) * size + prior.at] = slope;
      if (prior.and !== undefined) into[(m + k) * size + prior.and] = slope;
    });
  };
  const search = (start: Float64Array, iterations: number, tolerance: number) =>
    leastSquares(residuals, start, m + priors.length, { iterations, tolerance, jacobian });
  /** NaN for a censored reading, which says nothing of the noise. */
  const residualAt = (x: Float64Array) => {
    predict(x, predicted);
    return signal.value.map((value, i) => (beyond[i] === 0 ? value - predicted[i]! : Number.NaN));
  };
  const levelsAt = (x: Float64Array) => levelsOf(x, layout, initial, range);
  const updateNoise = (x: Float64Array) => {
    const residual = residualAt(x);
    ({ weight, autocorrelation } = noiseModelOf(residual, predicted, signal.time, levelsAt(x)));
    if (!options.correlated) autocorrelation.fill(0);
  };
  // From far away equal weights lead best: a clip changes everything under it.
  const far = !from || (shape.clipped && !from.shape.clipped);
  let start = starts[0]!;
  if (far) {
    // A few steps from each start show which is the best to go on from.
    const first = starts.map((x) => search(x, 8, rough)).reduce((a, b) => (b.rss < a.rss ? b : a));
    start = search(first.parameters, 25, rough).parameters;
  }
  // Weights and fit by turns: with the last search three rounds settle both.
  for (let round = 0; round < 2; round += 1) {
    updateNoise(start);
    start = search(start, 15, rough).parameters;
  }
  updateNoise(start);
  const fit = search(start, 120, options.tolerance);
  const known = residualAt(fit.parameters);
  const standardized = known.map((_, i) => standardizedAt(i).residual);
  const shown = predicted.map((value) => shownBy(range, value));
  if (layout.clip >= 0) centerClipped(standardized, predicted, fit.parameters[layout.clip]!);
  const whitenedResidual = Float64Array.from(standardized);
  whiten(whitenedResidual, 1, autocorrelation);
  return {
    shape,
    layout,
    scale: input.scale,
    fit,
    range,
    predicted: shown,
    residual: signal.value.map((value, i) => value - shown[i]!),
    weight,
    whitenedResidual,
    deviance: isPhysical(fit.parameters, layout)
      ? devianceOf(known, predicted, levelsAt(fit.parameters)) + censoredDeviance(standardized, beyond)
      : Infinity,
    effectiveSize: standardized.length / varianceInflation(standardized),
    priorScale: Float64Array.from(priors, (prior) => prior.scale ?? 1),
  };
}

/** -2 log likelihood of the censored readings, per reading. */
const censoredDeviance = (standardized: Float64Array, beyond: Int8Array): number =>
  standardized.reduce((sum, value, i) => (beyond[i] === 0 ? sum : sum + Math.min(value * value, 25)), 0) /
  beyond.length;

/** Whether a flame and a meter can be so: more flame gives more signal, the dark is not clipped, and the lag is plausible. */
const isPhysical = (x: Float64Array, layout: Layout): boolean =>
  x[layout.amplitude]! > 0 &&
  !(layout.clip >= 0 && layout.dark >= 0 && x[layout.dark]! >= x[layout.clip]!) &&
  isPlausibleLag(x[layout.lag]!);
