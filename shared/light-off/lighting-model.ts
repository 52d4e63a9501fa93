import { exp, log } from '../numerics/elementary.ts';
import { lowerBound, upperBound } from '../numerics/binomial.ts';
import { chiSquareQuantile } from '../numerics/distributions.ts';
import { type BinomialData, fitFirth, profileInterval } from './firth-logistic.ts';
import { isInHull, type Point } from './hull.ts';

/** A judged trial with a known pressure and spark delay, in one pressure unit throughout. */
export interface TriedPoint {
  pressure: number;
  /** Seconds from gas to spark. */
  delayS: number;
  lit: boolean;
}

/** The trials of one side of the window, and which of pressure and delay changed among them. */
export interface LightingModel {
  side: 'low' | 'high';
  trials: readonly TriedPoint[];
  columns: readonly ('pressure' | 'delayS')[];
}

export interface LightingProbability {
  probability: number;
  /** Profile-likelihood interval, of trials at one place an exact one; an end that the trials do not bound is 0 or 1. */
  interval: [number, number];
}

type Setting = Omit<TriedPoint, 'lit'>;

/**
 * Probability of lighting against pressure and spark delay on one side of the window. What never changed among the trials is left out.
 *
 * Undefined without trials, and where pressure and delay changed together so that their parts cannot be told apart.
 */
export function fitLighting(trials: readonly TriedPoint[], side: 'low' | 'high'): LightingModel | undefined {
  const [first] = trials;
  if (!first) return undefined;
  const columns = (['pressure', 'delayS'] as const).filter((key) => trials.some((trial) => trial[key] !== first[key]));
  const model = { side, trials, columns };
  return fitFirth(centered(model, first))?.converged ? model : undefined;
}

/**
 * Probability at a pressure and spark delay, by Firth's logistic regression with its intercept moved there, so that the profile
 * interval of the intercept is that of the probability. Failures bound it from above at and beyond their own place only, since they say
 * nothing of pressures nearer the middle or of an earlier spark, and what lit bounds it from below at and inside its place.
 * Source: Firth 1993, Biometrika 80, 27; Heinze and Schemper 2002, Statistics in Medicine 21, 2409.
 *
 * Where all trials were made at one place they are counted: Clopper and Pearson 1934, Biometrika 26, 404.
 *
 * @param confidence  of the two-sided interval, whether both of its ends are bounded or one
 * Undefined where the trials do not surround the point: never a claim beyond what was tried. And where all of them lit, or none: a curve
 * through them would claim more than they prove by their number.
 */
export function probabilityAt(
  model: LightingModel,
  pressure: number,
  delayS: number,
  confidence: number,
): LightingProbability | undefined {
  const point = { pressure, delayS };
  const { trials } = model;
  const lit = trials.filter((trial) => trial.lit).length;
  if (lit === 0 || lit === trials.length) return undefined;
  if (!isInHull(trials.map(asPoint), [pressure, delayS])) return undefined;
  const data = centered(model, point);
  const fit = fitFirth(data);
  if (!fit?.converged) return undefined;
  const isBeyond = (a: Setting, b: Setting) =>
    (model.side === 'high' ? a.pressure >= b.pressure : a.pressure <= b.pressure) && a.delayS >= b.delayS;
  const bounded = {
    above: trials.some((trial) => !trial.lit && isBeyond(point, trial)),
    below: trials.some((trial) => trial.lit && isBeyond(trial, point)),
  };
  if (model.columns.length === 0) {
    const oneSided = (1 + confidence) / 2;
    return {
      probability: logistic(fit.coefficients[0]!),
      interval: [lowerBound(lit, trials.length, oneSided), upperBound(lit, trials.length, oneSided)],
    };
  }
  const [low, high] = profileInterval(data, fit, 0, chiSquareQuantile(confidence, 1));
  return {
    probability: logistic(fit.coefficients[0]!),
    interval: [bounded.below ? logistic(low) : 0, bounded.above ? logistic(high) : 1],
  };
}

/** Whether the trials show that the pilot lights less often farther out: the profile interval of that slope leaves out zero. */
export function fallsOff(model: LightingModel, confidence: number): boolean {
  const column = model.columns.indexOf('pressure') + 1;
  const data = centered(model, model.trials[0]!);
  const fit = column > 0 ? fitFirth(data) : undefined;
  if (!fit?.converged) return false;
  const [low, high] = profileInterval(data, fit, column, chiSquareQuantile(confidence, 1));
  return model.side === 'high' ? high < 0 : low > 0;
}

/**
 * The outermost pressure, among those tried with the spark at once, at which the pilot is estimated to light with a probability.
 * Undefined where no such trial was made, or where the estimate is nowhere so high.
 */
export function reachOf(model: LightingModel, probability: number): number | undefined {
  const tried = plainPressures(model);
  const [low, high] = [tried[0], tried.at(-1)];
  if (low === undefined || high === undefined) return undefined;
  const [inner, outer] = model.side === 'high' ? [low, high] : [high, low];
  const fit = fitFirth(centered(model, { pressure: inner, delayS: 0 }));
  if (!fit?.converged) return undefined;
  const column = model.columns.indexOf('pressure') + 1;
  const wanted = log(probability / (1 - probability));
  const atInner = fit.coefficients[0]!;
  if (atInner < wanted) return undefined;
  // Of the whole spread of the pressures, in whose units the slope is.
  const slope = column > 0 ? fit.coefficients[column]! / spread(model.trials.map(({ pressure }) => pressure)) : 0;
  const atOuter = atInner + slope * (outer - inner);
  return atOuter >= wanted ? outer : inner + (wanted - atInner) / slope;
}

/** Pressures tried with the spark at once, from the lowest on. */
export const plainPressures = ({ trials }: LightingModel): number[] =>
  trials
    .filter(({ delayS }) => delayS === 0)
    .map(({ pressure }) => pressure)
    .toSorted((a, b) => a - b);

const logistic = (eta: number): number => 1 / (1 + exp(-eta));

/** A trial in the plane of pressure and spark delay. */
export const asPoint = ({ pressure, delayS }: Setting): Point => [pressure, delayS];

/** The design with its origin at a point, one row for each place tried; each column in units of its spread, so that steps are alike. */
function centered({ trials, columns }: LightingModel, point: Setting): BinomialData {
  const spreads = columns.map((key) => spread(trials.map((trial) => trial[key])));
  const places = new Map<string, { row: number[]; successes: number; trials: number }>();
  for (const trial of trials) {
    const row = [1, ...columns.map((key, i) => (trial[key] - point[key]) / spreads[i]!)];
    const place = places.get(row.join(' ')) ?? { row, successes: 0, trials: 0 };
    place.successes += Number(trial.lit);
    place.trials += 1;
    places.set(row.join(' '), place);
  }
  const rows = [...places.values()];
  return {
    design: rows.map(({ row }) => row),
    successes: rows.map(({ successes }) => successes),
    trials: rows.map((place) => place.trials),
  };
}

const spread = (values: readonly number[]): number => Math.max(...values) - Math.min(...values);
