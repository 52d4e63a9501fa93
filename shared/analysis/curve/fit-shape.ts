import { varianceInflation } from '../../numerics/autocorrelation.ts';
import { type Fit, leastSquares } from '../../numerics/least-squares.ts';
import type { DarkStretch } from '../sweep/flame/flame-loss.ts';
import { roughNoise } from '../sweep/series/meter-noise.ts';
import type { TestedScale } from '../sweep/series/pairs.ts';
import type { FitData } from './fit-data.ts';
import { isPlausibleLag } from './lag.ts';
import { createPredictor } from './predict-signal.ts';
import { priorsFor } from './priors.ts';
import { type Layout, layoutOf, type Shape } from './shape.ts';
import { centerClipped, devianceOf, levelsOf, noiseModelOf, whiten } from './signal-noise.ts';
import { startFromFit, startingValues } from './starting-values.ts';

/** A steady-state curve with its lag, as fitted. Arrays have one entry for each signal reading unless said otherwise. */
export interface CurveFit {
  shape: Shape;
  layout: Layout;
  scale: TestedScale;
  fit: Fit;
  /** Predicted and residual signal, in the signal's unit. */
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
  const { input, signal, initial } = data;
  const layout = layoutOf(shape);
  const starts = from
    ? [startFromFit({ layout: from.layout, parameters: from.fit.parameters }, layout)]
    : startingValues(data, layout, losses);
  const { predict, slopes } = createPredictor(input, layout);
  const m = signal.value.length;
  const priors = priorsFor(layout, data, losses);
  const predicted = new Float64Array(m);
  let weight: Float64Array = new Float64Array(m).fill(1 / roughNoise(signal));
  let autocorrelation: Float64Array = new Float64Array(m);
  const residuals = (x: Float64Array, into: Float64Array) => {
    predict(x, predicted);
    for (let i = 0; i < m; i += 1) into[i] = weight[i]! * (signal.value[i]! - predicted[i]!);
    whiten(into, 1, autocorrelation);
    priors.forEach(({ at, and, mean, deviation }, k) => {
      into[m + k] = (x[at]! + (and === undefined ? 0 : x[and]!) - mean) / deviation;
    });
  };
  const { size } = layout;
  const jacobian = (x: Float64Array, into: Float64Array) => {
    slopes(x, into);
    for (let i = 0; i < m; i += 1) for (let j = 0; j < size; j += 1) into[i * size + j]! *= -weight[i]!;
    whiten(into, size, autocorrelation);
    into.fill(0, m * size);
    priors.forEach(({ at, and, deviation }, k) => {
      into[(m + k) * size + at] = 1 / deviation;
      if (and !== undefined) into[(m + k) * size + and] = 1 / deviation;
    });
  };
  const search = (start: Float64Array, iterations: number, tolerance: number) =>
    leastSquares(residuals, start, m + priors.length, { iterations, tolerance, jacobian });
  const residualAt = (x: Float64Array) => {
    predict(x, predicted);
    return signal.value.map((value, i) => value - predicted[i]!);
  };
  const updateNoise = (x: Float64Array) => {
    const residual = residualAt(x);
    ({ weight, autocorrelation } = noiseModelOf(residual, predicted, signal.time, levelsOf(x, layout, initial)));
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
  const residual = residualAt(fit.parameters);
  const standardized = residual.map((value, i) => value * weight[i]!);
  if (layout.clip >= 0) centerClipped(standardized, predicted, fit.parameters[layout.clip]!);
  const whitenedResidual = Float64Array.from(standardized);
  whiten(whitenedResidual, 1, autocorrelation);
  return {
    shape,
    layout,
    scale: input.scale,
    fit,
    predicted: Float64Array.from(predicted),
    residual,
    weight,
    whitenedResidual,
    deviance: isPhysical(fit.parameters, layout)
      ? devianceOf(residual, predicted, levelsOf(fit.parameters, layout, initial))
      : Infinity,
    effectiveSize: standardized.length / varianceInflation(standardized),
    priorScale: Float64Array.from(priors, (prior) => prior.scale ?? 1),
  };
}

/** Whether a flame and a meter can be so: more flame gives more signal, and the lag is plausible. */
const isPhysical = (x: Float64Array, layout: Layout): boolean =>
  x[layout.amplitude]! > 0 && isPlausibleLag(x[layout.lag]!);
