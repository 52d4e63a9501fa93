import { type CountedTrial, toleranceAt } from '../../light-off/at-setting.ts';
import { fitBothSides, type LightingModels, lightingOf } from '../../light-off/lighting.ts';
import type { Lighting } from '../../model/results/lighting.ts';
import { planOf, wantedProbability } from '../../light-off/plan.ts';
import type { Trial } from '../../model/capture.ts';
import type { Setup } from '../../model/setup.ts';
import { inflationOfSquares } from '../../numerics/autocorrelation.ts';
import type { FittedCurve } from '../curve/fit-curve.ts';
import { lossesWithGasOn } from '../sweep/flame/losses-with-gas-on.ts';
import { pairReadings } from '../sweep/series/pairs.ts';
import { pressureAt } from '../sweep/series/pressure-grid.ts';
import type { Excursion } from '../sweep/flame/falls.ts';
import type { PreparedSweep } from '../sweep/prepared-sweep.ts';
import { readingNoise } from '../sweep/series/meter-noise.ts';
import { lossTimeUncertainty } from '../sweep/series/series.ts';
import { type Contradictions, findContradictions } from './contradictions.ts';
import { type Dip, findDip } from './diagnostics/dips.ts';
import { findExcursions } from './losses/excursions.ts';
import type { SweepEnds } from './find-ends.ts';
import { findWeakStretches } from './losses/weak-stretches.ts';
import { type FlameHysteresis, flameHysteresisOf } from './losses/flame-hysteresis.ts';
import { judgeTrials, type LightOff } from './light-off.ts';
import { expandedUncertainty, pressureUncertainty, requiredSignalUncertainty } from './meter-uncertainty.ts';
import { fittedLosses, whileLit } from './losses/middle-losses.ts';
import { type Disagreement, findDisagreement } from './diagnostics/sweep-agreement.ts';
import { findUnsteady, type Steadiness } from './diagnostics/steadiness.ts';
import type { Bounds } from './evidence.ts';
import { findWindow, type Window } from './window.ts';

/** Fourth step of the analysis: the window, everything that bounds it, and what contradicts it. */
export interface BoundedWindow {
  window: Window;
  /** What the window would be if the signal alone bounded it. */
  signalWindow: Window;
  steadiness: Steadiness;
  /** Degrees of freedom behind the plateau's scatter. */
  noiseDegrees: number;
  /** Pressures between good ones where the signal is not good enough. */
  dip: Dip | undefined;
  /** The same beside the signal interval, where it ends at a dip and the signal is good again beyond. */
  dipBeside: Dip | undefined;
  /** Losses of the flame after which it came back by itself. */
  flameHysteresis: FlameHysteresis[];
  /** When the signal fell below what is required at a good pressure. */
  excursions: Excursion[];
  /** Pressures at which the sweeps of the capture contradict each other. */
  disagreement: Disagreement | undefined;
  /** Undefined when no trials were made. */
  lightOff: LightOff | undefined;
  /** The lighting model on both sides, as it was fitted, and what it says; without trials it says nothing. */
  lightingModels: LightingModels;
  lighting: Lighting;
  contradictions: Contradictions;
}

/**
 * A median absolute deviation is as precise as a standard deviation of this share of its readings (Rousseeuw and Croux 1993,
 * JASA 88, 1273).
 */
const madEfficiency = 0.37;

/**
 * Bounds the window by the signal interval and by everything else that is known: unsteadiness, dips, light-off trials, the
 * maker's range.
 *
 * @param isSteady  whether the pressure stood still in a trial that lit
 * @param setup     accuracies of the meters, plan for light-off
 */
export function boundWindow(
  trials: Trial[],
  isSteady: (trial: CountedTrial) => boolean,
  setup: Setup,
  {
    sweep,
    settings,
    grid,
    pressure,
    signal,
    usableSignal,
    scale,
    dropOuts,
    repeatedLosses,
    darkStretches,
    sweepStartsS,
    lightOffsS,
    lossesOutside,
    tracked,
  }: PreparedSweep,
  fitted: FittedCurve,
  { interval, residual, lossesAtEnds, litPairs }: SweepEnds,
): BoundedWindow {
  const { confidence, makerRange } = settings;
  const { curve, pairs, tested } = fitted;
  const { pressureUnit: unit, signalUnit } = sweep;
  const { plateau, required } = interval;
  const inside: [number, number] = [interval.low?.value ?? tested[0], interval.high?.value ?? tested[1]];
  const steadiness = findUnsteady(pairs.pressure, residual, inside, plateau.value);
  const inflation = signal.time.length / curve.effectiveSize;
  const dipWithin = (ends: [number, number]) =>
    interval.low && interval.high
      ? findDip(litPairs.pressure, litPairs.signal, ends, required.value, inflation)
      : undefined;
  const dip = dipWithin(inside);
  const fittedAndAtEnds = { atEnds: lossesAtEnds, fitted: fittedLosses(curve, grid) };
  const flameHysteresis = flameHysteresisOf(fittedAndAtEnds, fitted, interval, grid, tracked.spans, lightOffsS, {
    timeU: lossTimeUncertainty(sweep.pressure, sweep.signal),
    pressureU: readingNoise(pressure.value),
    unit,
    confidence,
  });
  const pressureU = (pressure: number) => pressureUncertainty(setup, unit, pressure);
  const expandedAt = (pressure: number) => expandedUncertainty(setup, unit, pressure);
  const lightOff = judgeTrials(trials, unit, (inside[0] + inside[1]) / 2, confidence, expandedAt);
  // Most trials are made at the setting, and they tell of both sides.
  const { asLeft } = settings;
  const settingOr = (middle: number) =>
    asLeft !== undefined && asLeft > inside[0] && asLeft < inside[1] ? asLeft : middle;
  const lightingModels = fitBothSides(trials, isSteady, {
    unit,
    center: settingOr((inside[0] + inside[1]) / 2),
    toleranceAt: (pressure) => toleranceAt(inside[1] - inside[0], expandedAt(pressure)),
  });
  const lighting = lightingOf(lightingModels, wantedProbability(planOf(setup)), confidence);
  const [lowReach, highReach] = [lighting.low?.reach, lighting.high?.reach];
  const bounds: Bounds = {
    unit,
    interval,
    unsteady: steadiness.ends,
    repeatedLosses,
    dip,
    flameHysteresis,
    lightOff,
    lightingReach: {
      ...(lowReach !== undefined && { low: lowReach }),
      ...(highReach !== undefined && { high: highReach }),
    },
    makerRange,
    confidence,
    pressureU,
    signalU: requiredSignalUncertainty(setup, signalUnit, required, settings.dropFraction),
  };
  // Those of drop-outs too, which say nothing of the steady curve.
  const allPairs = pairReadings(grid, usableSignal, curve.fit.parameters[curve.layout.lag]!, scale.half);
  const [firstS, lastS] = [usableSignal.time[0]!, usableSignal.time.at(-1)!];
  const toldLosses = lossesWithGasOn(tracked.spans).filter(
    ({ fromS }) =>
      fromS >= firstS &&
      fromS <= lastS &&
      !repeatedLosses?.losses.some((each) => fromS >= each.fromS && fromS <= each.toS),
  );
  const contradictions = findContradictions({
    trials,
    unit,
    trialSeconds: settings.trialSeconds,
    interval,
    contradicting: lightOff?.contradicting ?? [],
    darkStretches,
    dropOuts,
    toldLosses,
    lossesOutside,
    ...pairs,
    pressureAt: (elapsedS) => pressureAt(grid, elapsedS),
    tested,
  });
  const { plateauSd } = steadiness;
  const fell = findExcursions(allPairs, interval, tested, plateauSd, tracked.spans, dropOuts);
  const weak = findWeakStretches(pairs, fitted.lag.value, interval, tested, plateauSd, tracked.spans, flameHysteresis);
  const isListed = ({ atS, seconds }: Excursion) =>
    fell.some((each) => each.atS <= atS + seconds && each.atS + each.seconds >= atS);
  const excursions = [...fell, ...weak.filter((each) => !isListed(each))].sort((a, b) => a.atS - b.atS);
  return {
    window: findWindow(bounds),
    signalWindow: findWindow({
      ...bounds,
      unsteady: [],
      lightOff: undefined,
      lightingReach: {},
      makerRange: undefined,
    }),
    steadiness,
    noiseDegrees: Math.max(2, (madEfficiency * steadiness.plateauCount) / inflationOfSquares(inflation)),
    dip,
    dipBeside: dip ? undefined : dipWithin(tested),
    flameHysteresis,
    excursions,
    // That a flame is out between the pressures of its loss and of its return is no contradiction; one lost in the middle is.
    disagreement: findDisagreement(
      whileLit(pairs, lossesAtEnds, fitted.lag.value),
      tested,
      sweepStartsS,
      required.value,
    ),
    lightOff,
    lightingModels,
    lighting,
    contradictions,
  };
}
