import type { ComparedQuantity, ComparisonResult } from '../../model/results/analysis-result.ts';
import { convertPressure, convertSignal, type PressureUnit, type SignalUnit } from '../../model/units.ts';
import { percentileDeviation } from '../../numerics/robust.ts';
import { combineUncertainty, type Component, coverageFactor } from '../../numerics/uncertainty.ts';
import type { Study } from '../study.ts';
import { pressureUncertainty, signalUncertainty } from '../window/meter-uncertainty.ts';
import type { SignalInterval } from '../window/ends/signal-interval.ts';
import { plateauScatter } from './plateau-scatter.ts';
import { type Scatter, scatterChangeInterval } from './scatter.ts';
import { driftUAt, manometerResponseU } from './visit-uncertainty.ts';

/** How one quantity changed, with its interval and whether it is significant. */
export type Change = ComparisonResult[ComparedQuantity];

/** A value of one sweep with its standard uncertainty; undefined where that sweep does not show it. */
type MeasuredQuantity = ({ value: number } & Component) | undefined;

/** In which units a comparison is given. */
export interface ComparedUnits {
  pressureUnit: PressureUnit;
  signalUnit: SignalUnit;
}

/**
 * The change of every compared quantity from one study to the other, each with its interval at `confidence`.
 * Deviations that come from few independent blocks have few degrees of freedom, so each interval is Student's on the
 * effective degrees of both sweeps and their meters together (JCGM 100:2008, G.4).
 *
 * @param confidence  of each interval alone, two-sided
 */
export function changesBetween(
  a: Study,
  b: Study,
  units: ComparedUnits,
  confidence: number,
): Record<ComparedQuantity, Change> {
  const before = quantitiesOf(a, units);
  const after = quantitiesOf(b, units);
  const change = (name: keyof typeof before) => changeOf(before[name], after[name], confidence);
  return {
    lowEdge: change('lowEdge'),
    highEdge: change('highEdge'),
    plateau: change('plateau'),
    windowWidth: change('windowWidth'),
    noise: scatterChange(scatterOf(a, units), scatterOf(b, units), confidence),
    lag: change('lag'),
  };
}

function quantitiesOf(
  study: Study,
  units: ComparedUnits,
): Record<Exclude<ComparedQuantity, 'noise'>, MeasuredQuantity> {
  const { interval, setup, sweep, lag } = study;
  const { pressureUnit, signalUnit } = sweep;
  const toPressure = (value: number) => convertPressure(value, pressureUnit, units.pressureUnit);
  const toSignal = (value: number) => convertSignal(value, signalUnit, units.signalUnit) ?? Number.NaN;
  // The error of a meter is a constant of the visit: as well known as its maker states, whatever the sweep.
  const constant = (u: number): Component => ({ u, degrees: Infinity });
  const manometer = (value: number) => constant(pressureUncertainty(setup, pressureUnit, value));
  const measured = (value: number, parts: Component[], convert: (value: number) => number): MeasuredQuantity => {
    const { u, degrees } = combineUncertainty(parts);
    return Number.isFinite(u) ? { value: convert(value), u: convert(u), degrees } : undefined;
  };
  const end = (side: 'low' | 'high'): MeasuredQuantity => {
    const found = interval[side];
    if (!found?.bounded) return undefined;
    return measured(
      found.value,
      [found.component, manometer(found.value), constant(driftUAt(study, found))],
      toPressure,
    );
  };
  const width = (): MeasuredQuantity => {
    const { low, high, replicates } = interval;
    if (!low?.bounded || !high?.bounded) return undefined;
    const ends = widthUncertainty(low.component, high.component, replicates);
    // A signal that drifts moves both ends apart or together.
    const drifting = constant(driftUAt(study, low) + driftUAt(study, high));
    return measured(high.value - low.value, [ends, manometer(low.value), manometer(high.value), drifting], toPressure);
  };
  const { value: level, component } = interval.plateau;
  const signalMeter = constant(signalUncertainty(setup, signalUnit, level));
  return {
    lowEdge: end('low'),
    highEdge: end('high'),
    windowWidth: width(),
    plateau: measured(level, [component, signalMeter], toSignal),
    lag: measured(lag.value, [lag.component, constant(manometerResponseU(study))], (value) => value),
  };
}

/**
 * Standard uncertainty of the distance between both ends. They are drawn together, so what moves both (the lag, the plateau)
 * is not counted twice: u^2 = low^2 + high^2 - 2 cov, the covariance from the spreads of sum and difference, which outliers
 * do not reach (Gnanadesikan and Kettenring 1972, Biometrics 28, 81).
 */
function widthUncertainty(low: Component, high: Component, replicates: SignalInterval['replicates']): Component {
  const independent = combineUncertainty([low, high]);
  const varianceOf = (sign: 1 | -1) =>
    percentileDeviation(replicates.high.map((value, b) => value + sign * replicates.low[b]!).filter(Number.isFinite)) **
    2;
  const covariance = (varianceOf(1) - varianceOf(-1)) / 4;
  const variance = independent.u ** 2 - 2 * covariance;
  return variance > 0 ? { u: Math.sqrt(variance), degrees: independent.degrees } : independent;
}

/**
 * Scatter on the plateau, in the later sweep's unit. Undefined where the amplifier or the meter cuts the signal off at its top: there is no
 * scatter left to compare.
 */
function scatterOf(study: Study, units: ComparedUnits): Scatter | undefined {
  if (study.curve.shape.clipped || study.curve.range.top !== undefined) return undefined;
  const toSignal = (value: number) => convertSignal(value, study.sweep.signalUnit, units.signalUnit) ?? Number.NaN;
  const { sd, degrees, otherU } = plateauScatter(study);
  return { sd: toSignal(sd), degrees, otherU: toSignal(otherU) };
}

const uncomparable = (before: number | undefined, after: number | undefined): Change => ({
  before: before ?? null,
  after: after ?? null,
  change: null,
  ci: null,
  significant: false,
});

function scatterChange(before: Scatter | undefined, after: Scatter | undefined, confidence: number): Change {
  if (!before || !after) return uncomparable(before?.sd, after?.sd);
  const ci = scatterChangeInterval(before, after, confidence);
  const significant = ci[0] > 0 || ci[1] < 0;
  return { before: before.sd, after: after.sd, change: after.sd - before.sd, ci, significant };
}

function changeOf(before: MeasuredQuantity, after: MeasuredQuantity, confidence: number): Change {
  if (!before || !after) return uncomparable(before?.value, after?.value);
  const change = after.value - before.value;
  const { u, degrees } = combineUncertainty([before, after]);
  const half = coverageFactor(confidence, degrees) * u;
  return {
    before: before.value,
    after: after.value,
    change,
    ci: [change - half, change + half],
    significant: Math.abs(change) > half,
  };
}
