import { convertPressure } from '../../model/units.ts';
import { percentileDeviation } from '../../numerics/robust.ts';
import { addUncertainty } from '../curve/estimate.ts';
import { replicatesOf } from '../curve/bootstrap.ts';
import type { FittedCurve } from '../curve/fit-curve.ts';
import { readingNoise, resolutionOf, roughNoise } from '../sweep/series/meter-noise.ts';
import { type Pairs, typicalMovement } from '../sweep/series/pairs.ts';
import type { PreparedSweep } from '../sweep/prepare-sweep.ts';
import { lossTimeUncertainty } from '../sweep/series/series.ts';
import { distanceFromFreeCurve, freeSignalInterval, residualsOfCurve } from './ends/free-curve.ts';
import { requiredSignal } from '../sweep/required-signal.ts';
import { digitUncertainty } from './meter-uncertainty.ts';
import { burnsOnBothSides, type FittedLoss, fittedLosses, whileLit } from './losses/middle-losses.ts';
import { findTwoPlateaus, type TwoPlateaus } from './diagnostics/two-plateaus.ts';
import { betweenShapes, type BetweenShapes } from './ends/between-shapes.ts';
import { fittedSignalInterval } from './ends/fitted-interval.ts';
import { sampleCurve } from './ends/curve-ends.ts';
import { plotPressures, type SignalEnd, type SignalInterval } from './ends/signal-interval.ts';
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
  /** Residual of each reading about the plotted curve, whichever it is; in the signal's unit. */
  residual: Float64Array;
}

/**
 * A shoulder spans 0.1 to 0.5 inH2O; a signal that falls within about half of the narrowest is a cliff: the flame was lost.
 */
const cliffInH2O = 0.06;

/** A twentieth of the plateau: half the usual drop that sets the ends, and beyond what an unsteady flame leaves. */
const maxMisfit = 0.05;

/** Finds the signal interval of the fitted curve, or of the free curve where the fitted one does not follow the readings. */
export function findEnds(sweep: PreparedSweep, fitted: FittedCurve): SweepEnds {
  const { settings, grid, signal } = sweep;
  const { confidence, dropFraction, minimumSignal: minimum } = settings;
  const { curve, replicates, tested, pairs, degrees, blockS } = fitted;
  const losses = fittedLosses(curve, grid);
  const { value: required } = requiredSignal(sweep.initial.plateau, dropFraction, minimum);
  const burnsBeyond = burnsOnBothSides(pairs, tested, required, losses);
  const inMiddle = losses.map(({ lostAt }) => burnsBeyond(lostAt));
  const lossesAtEnds = losses.filter((_, k) => !inMiddle[k]);
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
    pressureU: readingNoise(sweep.pressure.value),
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
  const interval = modelFits
    ? withShapeUncertainty(byModel, betweenShapes(fitted.chosen, tested, dropFraction, minimum), confidence)
    : freeSignalInterval({
        ...litPairs,
        tested,
        lossesAt: lossesAtEnds.map(({ lostAt }) => lostAt),
        dropFraction,
        minimum,
        confidence,
        blockS,
        degrees: degrees.both,
        seed: settings.seed,
      });
  const ofTracked = withTrackedLosses(interval, sweep, lossTimeU);
  const shaded = {
    ...ofTracked,
    plateau: addUncertainty(ofTracked.plateau, shadeUncertainty(sweep, ofTracked), confidence),
  };
  return {
    interval: withOverload(withDigitUncertainty(shaded, sweep, fitted), sweep, fitted),
    lossesAtEnds,
    litPairs,
    plateaus,
    misfit,
    modelFits,
    residual: modelFits ? curve.residual : residualsOfCurve(interval.curve, pairs.pressure, pairs.signal),
  };
}

/** What is not known of the pulses of a shutter moves the whole level: standard uncertainty of the plateau, in the signal's unit. */
const shadeUncertainty = ({ shade }: PreparedSweep, { plateau }: SignalInterval): number =>
  (shade?.u ?? 0) * Math.abs(plateau.value);

/** The same interval with what the choice among shapes leaves open. */
function withShapeUncertainty(interval: SignalInterval, by: BetweenShapes, confidence: number): SignalInterval {
  const { low, high, plateau } = interval;
  const widen = (end: SignalEnd | undefined, u: number) =>
    end?.bounded && !end.flameLost ? { ...end, ...addUncertainty(end, u, confidence) } : end;
  return {
    ...interval,
    ...(low && { low: widen(low, by.low)! }),
    ...(high && { high: widen(high, by.high)! }),
    plateau: addUncertainty(plateau, by.plateau, confidence),
  };
}

/** The same interval, its plateau up to where the fitted curve goes on beyond an overload: the meter showed it to be at least its highest number. */
function withOverload(
  interval: SignalInterval,
  { sweep }: PreparedSweep,
  { curve, tested, replicates }: FittedCurve,
): SignalInterval {
  if (sweep.overloadTop === undefined) return interval;
  const { plateau } = interval;
  const beyond = sampleCurve({ ...curve, range: {} }, plotPressures(tested)).signal;
  // Two standard uncertainties (JCGM 100:2008, 6.3.3) of the height, which nothing but the shoulders tells.
  const u = percentileDeviation(replicatesOf(replicates, curve.layout.amplitude).sort());
  const highest = beyond.reduce((a, b) => Math.max(a, b + 2 * u), plateau.ci[1]);
  return { ...interval, plateau: { ...plateau, ci: [plateau.ci[0], highest] } };
}

/** The same interval with the uncertainty that the last digits of manometer and signal meter leave. */
function withDigitUncertainty(
  interval: SignalInterval,
  sweep: PreparedSweep,
  { pairs, curve }: FittedCurve,
): SignalInterval {
  const { confidence } = sweep.settings;
  const { low, high, plateau } = interval;
  const pressureU = digitUncertainty(resolutionOf(sweep.pressure.value), typicalMovement(pairs));
  // At the end of the meter's range no noise dithers its last digit.
  const noise = curve.range.top === undefined ? roughNoise(sweep.usableSignal) : 0;
  const signalU = digitUncertainty(resolutionOf(sweep.usableSignal.value), noise);
  return {
    ...interval,
    ...(low?.bounded && { low: { ...low, ...addUncertainty(low, pressureU, confidence) } }),
    ...(high?.bounded && { high: { ...high, ...addUncertainty(high, pressureU, confidence) } }),
    plateau: addUncertainty(plateau, signalU, confidence),
  };
}
