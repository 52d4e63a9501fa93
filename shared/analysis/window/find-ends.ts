import { convertPressure } from '../../model/units.ts';
import { addUncertainty } from '../curve/estimate.ts';
import type { FittedCurve } from '../curve/fit-curve.ts';
import { pressureAt } from '../sweep/series/pressure-grid.ts';
import { readingNoise } from '../sweep/series/meter-noise.ts';
import type { Pairs } from '../sweep/series/pairs.ts';
import type { PreparedSweep } from '../sweep/prepared-sweep.ts';
import { lossTimeUncertainty } from '../sweep/series/series.ts';
import { distanceFromFreeCurve, freeSignalInterval, residualsOfCurve } from './ends/free-curve.ts';
import { requiredSignal } from '../sweep/required-signal.ts';
import { burnsOtherwise, type FittedLoss, fittedLosses, whileLit } from './losses/middle-losses.ts';
import { burns } from '../sweep/flame/gas-off.ts';
import { type Drift, driftOf, driftUncertainty } from './diagnostics/drift.ts';
import { isBadSomewhere } from './diagnostics/dips.ts';
import { findTwoPlateaus, type TwoPlateaus } from './diagnostics/two-plateaus.ts';
import { withFittedCurve, withLagUncertainty } from './ends/between-curves.ts';
import { betweenShapes } from './ends/between-shapes.ts';
import { fittedSignalInterval } from './ends/fitted-interval.ts';
import { flatPart } from './ends/flat-part.ts';
import { withReachedEnds } from './ends/reached-ends.ts';
import type { SignalInterval } from './ends/signal-interval.ts';
import { widestGapInH2O, withUntestedGaps } from './ends/untested-gap.ts';
import { withMeterUncertainty, withShapeUncertainty } from './widened-interval.ts';
import { withTrackedLosses } from './losses/tracked-losses.ts';

/** Third step of the analysis: where the steady signal is good, whether or not a model follows the readings. */
export interface SweepEnds {
  /** Plateau, required signal and both ends, with the uncertainty of the meters' last digits. */
  interval: SignalInterval;
  /** The fitted losses of the flame that end the signal interval, or lie beyond its end. */
  lossesAtEnds: FittedLoss[];
  /** Readings with their pressures while the flame burned. */
  litPairs: Pairs;
  /** Two levels of the signal with a step between them; undefined where there is one. */
  plateaus: TwoPlateaus | undefined;
  /** Distance of the fit from a curve that only has to rise and then fall, as a share of the plateau. */
  misfit: number;
  /** Whether the model follows the readings; else plateau, ends and plotted curve are those of the free curve. */
  modelFits: boolean;
  /** How the plateau signal drifted in time; undefined where time and pressure cannot be distinguished. */
  drift: Drift | undefined;
  /** Residual of each reading about the plotted curve, whichever it is; in the signal's unit. */
  residual: Float64Array;
}

/**
 * A shoulder spans 0.1 to 0.5 inH2O; a signal that falls within about half of the narrowest is a cliff: the flame was lost.
 */
const cliffInH2O = 0.06;

/** Confidence of the drift at least: a warning that comes with every sweep must not cry wolf in one of twenty. */
const driftConfidence = 0.99;

/** A twentieth of the plateau: half the usual drop that sets the ends, and beyond what an unsteady flame leaves. */
const maxMisfit = 0.05;

/** Finds the signal interval of the fitted curve, or of the free curve where the fitted one does not follow the readings. */
export function findEnds(sweep: PreparedSweep, fitted: FittedCurve): SweepEnds {
  const { settings, grid, signal } = sweep;
  const { confidence, dropFraction, minimumSignal: minimum } = settings;
  const { curve, replicates, tested, pairs, degrees, blockS } = fitted;
  const losses = fittedLosses(curve, grid);
  const { value: required } = requiredSignal(sweep.initial.plateau, dropFraction, minimum);
  const pressureNow = (elapsedS: number) => pressureAt(grid, elapsedS);
  const isAmid = burnsOtherwise(pairs, tested, required, losses, pressureNow, sweep.sweep.pressureUnit);
  const inMiddle = losses.map(isAmid);
  const lossesAtEnds = losses.filter((_, k) => !inMiddle[k]);
  const pressureU = readingNoise(sweep.pressure.value);
  const lossTimeU = lossTimeUncertainty(sweep.sweep.pressure, sweep.sweep.signal);
  const byModel = fittedSignalInterval({
    fit: curve,
    replicates,
    grid,
    tested,
    pressures: pairs.pressure,
    dropFraction,
    minimum,
    confidence,
    degrees,
    pressureU,
    lossTimeU,
    inMiddle,
    cliffWidth: convertPressure(cliffInH2O, 'inH2O', sweep.sweep.pressureUnit),
  });
  const lagS = Math.max(0, curve.fit.parameters[curve.layout.lag]!);
  const litPairs = whileLit(pairs, losses, lagS);
  const predicted = whileLit({ ...pairs, signal: curve.predicted }, losses, lagS).signal;
  const misfit = distanceFromFreeCurve(
    litPairs.pressure,
    litPairs.signal,
    predicted,
    tested,
    byModel.plateau.value,
    signal.time.length / curve.effectiveSize,
    sweep.initial.digit,
  );
  // No shape of curve has a step: one that sags or bows between two plateaus is wrong at the end that the step is.
  const plateaus = findTwoPlateaus(litPairs, tested);
  const modelFits = misfit <= maxMisfit && !plateaus;
  const withOtherCurves = (free: SignalInterval): SignalInterval => {
    const known = misfit <= maxMisfit ? withFittedCurve(free, byModel, confidence) : free;
    return withLagUncertainty(known, litPairs, tested, fitted.lag.standardError, confidence);
  };
  const interval = modelFits
    ? withShapeUncertainty(byModel, betweenShapes(fitted.chosen, tested, dropFraction, minimum), confidence)
    : withOtherCurves(
        freeSignalInterval({
          ...litPairs,
          tested,
          lossesAt: lossesAtEnds.map(({ lostAt }) => lostAt),
          dropFraction,
          minimum,
          confidence,
          blockS,
          degrees: degrees.both,
          seed: settings.seed,
        }),
      );
  const isBadBetween = (low: number, high: number) =>
    isBadSomewhere(litPairs.pressure, litPairs.signal, [low, high], tested[1] - tested[0], interval.required.value);
  const knownLosses = {
    atEnds: lossesAtEnds,
    isAmid: lossesAtEnds.length < losses.length,
    isPossible: mayBeLost(sweep),
  };
  const reached = withReachedEnds(interval, litPairs, tested, knownLosses, isBadBetween);
  const darkAtEnds = sweep.darkStretches.filter(({ lostS }) => !isAmid({ lostS, lostAt: pressureNow(lostS) }));
  const widestGap = convertPressure(widestGapInH2O, 'inH2O', sweep.sweep.pressureUnit);
  const tried = withUntestedGaps(reached, litPairs.pressure, widestGap);
  const ofTracked = withTrackedLosses(tried, { ...sweep, darkStretches: darkAtEnds }, { timeU: lossTimeU, pressureU });
  const found = whereFlameSeen(withMeterUncertainty(ofTracked, sweep, fitted), sweep, modelFits);
  const residual = modelFits ? curve.residual : residualsOfCurve(interval.curve, pairs.pressure, pairs.signal);
  const sureBy = Math.max(confidence, driftConfidence);
  const drift = driftOf(pairs.elapsedS, pairs.pressure, residual, flatPart(found), sureBy);
  return {
    interval: { ...found, plateau: addUncertainty(found.plateau, driftUncertainty(drift), confidence) },
    lossesAtEnds,
    litPairs,
    plateaus,
    misfit,
    modelFits,
    drift,
    residual,
  };
}

/** Whether the flame may have been lost in the sweep: the burner's states say so, or saw no flame at all. */
const mayBeLost = ({ tracked }: PreparedSweep): boolean =>
  !tracked.spans.some(burns) || tracked.spans.some(({ flame }) => flame === 'lost');

/**
 * Without a flame in the whole capture there is no good pressure, however level the dark signal is. A weak flame that is taken for dark has
 * both its ends, clear of each other, on a curve that the readings follow.
 */
function whereFlameSeen(interval: SignalInterval, { tracked }: PreparedSweep, modelFits: boolean): SignalInterval {
  const { low, high } = interval;
  const isToldApart = modelFits && low?.bounded && high?.bounded && low.ci[1] < high.ci[0];
  if (isToldApart || tracked.spans.some(burns)) return interval;
  const { low: _, high: __, ...rest } = interval;
  return { ...rest, status: 'none' };
}
