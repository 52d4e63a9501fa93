import { pairReadings, type Pairs, testedPressures } from '../sweep/series/pairs.ts';
import { suspectedRange } from '../sweep/meter-faults/meter-range.ts';
import type { PreparedSweep } from '../sweep/prepared-sweep.ts';
import { readingTimeUncertainty } from '../sweep/series/series.ts';
import { blockLength, bootstrap, type Replicates, replicatesOf } from './bootstrap.ts';
import { smallestAicc } from './aicc.ts';
import { chooseRange } from './choose-range.ts';
import type { ShapeChoice } from './choose-shape.ts';
import { correlationTime, type DegreesOfFreedom, degreesOfFreedom } from './effective-sample-size.ts';
import type { Estimate } from './estimate.ts';
import type { FitData } from './fit-data.ts';
import { type CurveFit, fitShape } from './fit-shape.ts';
import { withDiscrepancy } from './discrepancy/discrepancy.ts';
import { hysteresisOf } from './hysteresis.ts';
import { keepLast } from '../../numerics/kept-answers.ts';
import { estimateLag } from './lag.ts';
import { manometerLag, manometerLagU } from './manometer-lag.ts';
import { undamped } from '../sweep/series/undamped.ts';
import type { PressureGrid } from '../sweep/series/pressure-grid.ts';

/** Second step of the analysis: the curve of signal against pressure with its lag, and how well it is known. */
export interface FittedCurve {
  curve: CurveFit;
  /** The shape that was chosen on the coarse sweep, and those that it was compared with. */
  chosen: ShapeChoice;
  /** Bootstrap replicates of the curve's parameters, and the seconds over which their multipliers stay correlated. */
  replicates: Replicates;
  blockS: number;
  degrees: DegreesOfFreedom;
  /** Seconds by which the signal follows the pressure as the manometer shows it. */
  lag: Estimate;
  /** Seconds by which the manometer itself lags, as far as the readings show; 0 where they show nothing of it. */
  manometerLagS: number;
  /** The pressure at the burner: as it was shown, without that lag. */
  grid: PressureGrid;
  /** Lowest and highest pressure that signal readings belong to, lag removed. */
  tested: [number, number];
  pairs: Pairs;
  /** Shift of the curve between turning in and turning out, in pressure; undefined when one way only was swept. */
  hysteresis: number | undefined;
}

/** The last fit: its parameters are the answer. */
const final = { tolerance: 1e-7, correlated: true };

/**
 * Fits the chosen shape to all readings. Where that search ends at what no flame and no meter can be, such as a lag of ten seconds, the
 * shape with the next smallest AICc and the same losses is taken; where all do, the first.
 */
function fitToAll(data: FitData, chosen: ShapeChoice): { curve: CurveFit; chosen: ShapeChoice } {
  const fitOf = (fit: CurveFit) => fitShape(data, fit.shape, chosen.losses, fit, final);
  const curve = fitOf(chosen.fit);
  if (curve.deviance < Infinity) return { curve, chosen };
  const { clipped, flameLosses } = chosen.fit.shape;
  let left = chosen.tried.filter(
    (fit) =>
      fit !== chosen.fit &&
      fit.deviance < Infinity &&
      fit.shape.flameLosses === flameLosses &&
      fit.shape.clipped === clipped,
  );
  while (left.length > 0) {
    const next = smallestAicc(left);
    const other = fitOf(next);
    if (other.deviance < Infinity) return { curve: other, chosen: { ...chosen, fit: next } };
    left = left.filter((fit) => fit !== next);
  }
  return { curve, chosen };
}

/** The fits between which the lag of the manometer is sought: a parabola is laid through their criteria. */
const measured = { tolerance: 1e-4, correlated: false };

/** What the fit takes from the prepared sweep as it is. */
const fittedParts = ['grid', 'signal', 'coarse', 'scale', 'initial', 'darkStretches', 'shade'] as const;

/** All that the fit depends on. */
interface FitInput extends Pick<PreparedSweep, (typeof fittedParts)[number]> {
  overloadTop: number | undefined;
  /** Standard uncertainty of the moment that a reading stands for, seconds. */
  readingTimeU: number;
  seed: number;
  confidence: number;
}

/**
 * Fits the steady-state curve with its lag: the shape is chosen on the coarse sweep, where some forty fits cost little, and with it what the
 * manometer lags; then it is fitted to all readings, from which it may deviate where they do; the bootstrap draws what other readings would
 * have given.
 *
 * Trials and most of a setup have no part in it, so that the last fits are kept: answer, advice and report, and those after one more trial,
 * rest on the same one. What it returns must not be changed.
 */
export function fitCurve(prepared: PreparedSweep): FittedCurve {
  const { sweep, settings } = prepared;
  const parts = Object.fromEntries(fittedParts.map((name) => [name, prepared[name]]));
  return keptFits({
    ...(parts as Pick<PreparedSweep, (typeof fittedParts)[number]>),
    overloadTop: sweep.overloadTop,
    readingTimeU: readingTimeUncertainty(sweep.pressure, sweep.signal),
    seed: settings.seed,
    confidence: settings.confidence,
  });
}

/** A comparison has two sweeps; with them stay the two before. */
const keptFits = keepLast(4, fit);

/** Drops the kept fits, so that the next is computed anew. */
export const forgetFits = (): void => keptFits.forget();

function fit(input: FitInput): FittedCurve {
  const { overloadTop, readingTimeU, seed, confidence, signal, coarse, scale, initial, darkStretches, shade } = input;
  const dataOf = (from: Pick<PreparedSweep, 'grid' | 'signal'>): FitData => ({
    input: { grid: from.grid, times: from.signal.time, scale },
    signal: from.signal,
    initial,
    range: {},
    ...(shade && { shareAt: shade.shareAt }),
  });
  const question =
    overloadTop === undefined
      ? { suspected: suspectedRange(signal), isKnown: false }
      : { suspected: { top: overloadTop }, isKnown: true };
  const asShown = chooseRange(dataOf(coarse), darkStretches, question);
  const shownData = { ...dataOf(coarse), range: asShown.range };
  const manometerLagS = manometerLag(shownData, asShown.fit, asShown.losses, measured);
  const isDamped = manometerLagS > 0;
  const grid = isDamped ? undamped(input.grid, manometerLagS) : input.grid;
  const atBurner = { ...coarse, grid: isDamped ? undamped(coarse.grid, manometerLagS) : coarse.grid };
  const ranged = isDamped ? chooseRange(dataOf(atBurner), darkStretches, question) : asShown;
  const all = { ...dataOf({ grid, signal }), range: ranged.range };
  const { curve: plain, chosen } = fitToAll(all, ranged);
  const curve = withDiscrepancy(all, plain, chosen.losses);

  const lagS = curve.fit.parameters[curve.layout.lag]!;
  const pairs = pairReadings(grid, signal, lagS, scale.half);
  const correlationS = correlationTime(curve, signal.time);
  const blockS = blockLength(correlationS);
  const replicates = bootstrap(curve, signal.time, correlationS, seed);
  const degrees = degreesOfFreedom(curve, signal.time, pairs.pressure, blockS);
  return {
    curve,
    chosen,
    replicates,
    blockS,
    degrees,
    // Below zero where the manometer lags by more than the flame signal.
    lag: estimateLag(
      lagS - manometerLagS,
      replicatesOf(replicates, curve.layout.lag).map((value) => value - manometerLagS),
      curve.shape.lowShoulder || curve.shape.highShoulder,
      degrees.both,
      Math.hypot(readingTimeU, manometerLagU(manometerLagS)),
      confidence,
      initial.lagLimits.longestS,
    ),
    manometerLagS,
    grid,
    tested: testedPressures(grid, signal, lagS),
    pairs,
    hysteresis: hysteresisOf(curve, pairs.pressure, pairs.direction),
  };
}
