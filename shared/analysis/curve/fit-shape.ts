import { type Layout, layoutOf, type Shape } from './shape.ts';
import type { TestedScale } from './curve-model.ts';
import { type InitialEstimates, longestLag } from '../sweep/initial-estimates.ts';
import { priorsFor, startFromFit, startsFor } from './fit-start.ts';
import type { DarkStretch } from '../sweep/flame-loss.ts';
import { createPredictor, type PredictionInput } from './predict-signal.ts';
import { type Fit, leastSquares } from '../../numerics/least-squares.ts';
import { varianceInflation } from '../../numerics/autocorrelation.ts';
import type { Series } from '../sweep/series.ts';
import { centerClipped, devianceOf, levelsOf, noiseModelOf, whiten } from './signal-noise.ts';
import { roughNoise } from '../sweep/meter-noise.ts';

/** A steady-state curve with its lag, as fitted. */
export interface CurveFit {
  shape: Shape;
  layout: Layout;
  scale: TestedScale;
  fit: Fit;
  /** Predicted and residual signal at each reading, in the signal's unit. */
  predicted: Float64Array;
  residual: Float64Array;
  /** Weight by which each residual was multiplied: 1 / its expected deviation, less for outliers. */
  weight: Float64Array;
  /** What is new in each weighted residual: without what it shares with the one before. */
  whitenedResidual: Float64Array;
  /** -2 log likelihood per reading, without what is the same for all shapes. */
  deviance: number;
  /** How much more the doubt of each prior is than its deviation in the fit. */
  priorScale: Float64Array;
  /** How many independent readings the residuals are worth. */
  effective: number;
}

/** Tolerance of a search whose answer is only a step to the next one. */
const rough = 2e-3;

/**
 * Fits one shape to the readings by generalised least squares: robust weights that follow the noise of each place, flicker that
 * fades with time, and weak priors.
 * Source: Aitken 1935, Proc. Royal Soc. Edinburgh 55, 42 (generalised least squares), by turns with its weights.
 *
 * @param from       an earlier fit to start from; else several starts are tried
 * @param dark       the flame losses of the shape, as many as it has
 * @param how        tolerance of the last search, and whether the noise's memory is reckoned with. Where shapes are only
 *                   compared it is not: what a wrong shape leaves would pass for memory.
 */
export function fitShape(
  scene: PredictionInput,
  signal: Series,
  look: InitialEstimates,
  shape: Shape,
  from: CurveFit | undefined,
  dark: DarkStretch[],
  how: { tolerance: number; correlated: boolean },
): CurveFit {
  const layout = layoutOf(shape);
  const starts = from
    ? [startFromFit({ layout: from.layout, parameters: from.fit.parameters }, layout)]
    : startsFor(scene, look, layout, dark);
  const { predict, slopes } = createPredictor(scene, layout);
  const m = signal.value.length;
  const priors = priorsFor(layout, look, scene, signal, dark);
  const predicted = new Float64Array(m);
  let weight: Float64Array = new Float64Array(m).fill(1 / roughNoise(signal));
  let carried: Float64Array = new Float64Array(m);
  const residuals = (x: Float64Array, into: Float64Array) => {
    predict(x, predicted);
    for (let i = 0; i < m; i += 1) into[i] = weight[i]! * (signal.value[i]! - predicted[i]!);
    whiten(into, 1, carried);
    priors.forEach(({ at, and, mean, deviation }, k) => {
      into[m + k] = (x[at]! + (and === undefined ? 0 : x[and]!) - mean) / deviation;
    });
  };
  const { size } = layout;
  const jacobian = (x: Float64Array, into: Float64Array) => {
    slopes(x, into);
    for (let i = 0; i < m; i += 1) for (let j = 0; j < size; j += 1) into[i * size + j]! *= -weight[i]!;
    whiten(into, size, carried);
    into.fill(0, m * size);
    priors.forEach(({ at, and, deviation }, k) => {
      into[(m + k) * size + at] = 1 / deviation;
      if (and !== undefined) into[(m + k) * size + and] = 1 / deviation;
    });
  };
  const search = (start: Float64Array, iterations: number, tolerance: number) =>
    leastSquares(residuals, start, m + priors.length, { iterations, tolerance, jacobian });
  const weighAt = (x: Float64Array) => {
    predict(x, predicted);
    const residual = signal.value.map((value, i) => value - predicted[i]!);
    ({ weight, carried } = noiseModelOf(residual, predicted, signal.time, levelsOf(x, layout, look)));
    if (!how.correlated) carried.fill(0);
  };
  // From far away even weights lead best: a clip changes everything under it.
  const far = !from || (shape.clipped && !from.shape.clipped);
  let start = starts[0]!;
  if (far) {
    // A few steps from each start tell which is worth going on from.
    const first = starts.map((x) => search(x, 8, rough)).reduce((a, b) => (b.squares < a.squares ? b : a));
    start = search(first.parameters, 25, rough).parameters;
  }
  // Weights and fit by turns: with the last search three rounds settle both.
  for (let round = 0; round < 2; round += 1) {
    weighAt(start);
    start = search(start, 15, rough).parameters;
  }
  weighAt(start);
  const fit = search(start, 120, how.tolerance);
  predict(fit.parameters, predicted);
  const residual = signal.value.map((value, i) => value - predicted[i]!);
  const standard = residual.map((value, i) => value * weight[i]!);
  if (layout.clip >= 0) centerClipped(standard, predicted, fit.parameters[layout.clip]!);
  const whitenedResidual = Float64Array.from(standard);
  whiten(whitenedResidual, 1, carried);
  return {
    shape,
    layout,
    scale: scene.scale,
    fit,
    predicted: Float64Array.from(predicted),
    residual,
    weight,
    whitenedResidual,
    deviance: isPhysical(fit.parameters, layout)
      ? devianceOf(residual, predicted, levelsOf(fit.parameters, layout, look))
      : Infinity,
    effective: effectiveCountOf(standard),
    priorScale: Float64Array.from(priors, (prior) => prior.scale ?? 1),
  };
}

/** Readings divided by the inflation of their mean's variance. */
const effectiveCountOf = (standard: Float64Array): number => standard.length / varianceInflation(standard);

/** Whether a flame and a meter can be so: more flame gives more signal, and the delay lies within what was looked for. */
const isPhysical = (x: Float64Array, layout: Layout): boolean =>
  x[layout.amplitude]! > 0 && x[layout.lag]! > -longestLag && x[layout.lag]! < longestLag + 0.5;
