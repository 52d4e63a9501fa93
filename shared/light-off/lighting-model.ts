import { exp } from '../numerics/elementary.ts';
import { chiSquareQuantile } from '../numerics/distributions.ts';
import { type BinomialData, fitFirth, profileInterval } from './firth-logistic.ts';

/** A judged trial with a known pressure and spark delay, in one pressure unit throughout. */
export interface TriedPoint {
  pressure: number;
  /** Seconds from gas to spark. */
  delayS: number;
  lit: boolean;
}

/** The trials of one side of the window, and which of pressure and delay changed among them. */
export interface LightingModel {
  trials: readonly TriedPoint[];
  columns: readonly ('pressure' | 'delayS')[];
}

export interface LightingProbability {
  probability: number;
  /** Two-sided profile-likelihood interval. */
  interval: [number, number];
}

/**
 * Probability of lighting against pressure and spark delay on one side of the window. What never changed among the trials is left out.
 *
 * Undefined without trials, and where pressure and delay changed together so that their parts cannot be told apart.
 */
export function fitLighting(trials: readonly TriedPoint[]): LightingModel | undefined {
  const [first] = trials;
  if (!first) return undefined;
  const columns = (['pressure', 'delayS'] as const).filter((key) => trials.some((trial) => trial[key] !== first[key]));
  const model = { trials, columns };
  return fitFirth(centered(model, first))?.converged ? model : undefined;
}

/**
 * Probability at a pressure and spark delay, by Firth's logistic regression with its intercept moved there, so that the profile
 * interval of the intercept is that of the probability.
 * Source: Firth 1993, Biometrika 80, 27; Heinze and Schemper 2002, Statistics in Medicine 21, 2409.
 *
 * @param confidence  of the two-sided interval
 * Undefined where the trials do not surround the point: never a claim beyond what was tried.
 */
export function probabilityAt(
  model: LightingModel,
  pressure: number,
  delayS: number,
  confidence: number,
): LightingProbability | undefined {
  const point = { pressure, delayS };
  if (!isSurrounded(model.trials, point)) return undefined;
  const data = centered(model, point);
  const fit = fitFirth(data);
  if (!fit?.converged) return undefined;
  const [low, high] = profileInterval(data, fit, 0, chiSquareQuantile(confidence, 1));
  return { probability: logistic(fit.coefficients[0]!), interval: [logistic(low), logistic(high)] };
}

const logistic = (eta: number): number => 1 / (1 + exp(-eta));

/** The design with its origin at a point; each column in units of its spread, so that steps of the fit are of like size. */
function centered({ trials, columns }: LightingModel, point: Omit<TriedPoint, 'lit'>): BinomialData {
  const spreads = columns.map((key) => spread(trials.map((trial) => trial[key])));
  return {
    design: trials.map((trial) => [1, ...columns.map((key, i) => (trial[key] - point[key]) / spreads[i]!)]),
    successes: trials.map(({ lit }) => Number(lit)),
    trials: trials.map(() => 1),
  };
}

const spread = (values: readonly number[]): number => Math.max(...values) - Math.min(...values);

/** Whether a point lies in the convex hull of the trials: seen from there, no half-plane is free of them. */
function isSurrounded(trials: readonly TriedPoint[], point: Omit<TriedPoint, 'lit'>): boolean {
  const scale = (key: 'pressure' | 'delayS') => spread(trials.map((trial) => trial[key])) || 1;
  const [across, up] = [scale('pressure'), scale('delayS')];
  const seen = trials.map((trial) => [(trial.pressure - point.pressure) / across, (trial.delayS - point.delayS) / up]);
  // A billionth of the range: the rounding of a sum of decimals.
  if (seen.some(([x, y]) => Math.hypot(x!, y!) < 1e-9)) return true;
  const angles = seen.map(([x, y]) => Math.atan2(y!, x!)).toSorted((a, b) => a - b);
  const gaps = angles.map((angle, i) => (angles[i + 1] ?? angles[0]! + 2 * Math.PI) - angle);
  return Math.max(...gaps) <= Math.PI + 1e-9;
}
