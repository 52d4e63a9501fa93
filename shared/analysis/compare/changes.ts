import type { ComparedQuantity, ComparisonResult } from '../../model/analysis-result.ts';
import { convertPressure, convertSignal, type PressureUnit, type SignalUnit } from '../../model/units.ts';
import { resolutionOf } from '../sweep/meter-noise.ts';
import { pressureUncertainty, signalUncertainty } from '../window/meter-uncertainty.ts';
import { madFactor, percentileDeviation } from '../../numerics/robust.ts';
import type { Study } from '../study.ts';
import { combineUncertainty, type Component, coverageFactor } from '../../numerics/uncertainty.ts';

export type Change = ComparisonResult[ComparedQuantity];

/** A value of one sweep with its standard uncertainty; undefined when that sweep could not say. */
type MeasuredQuantity = ({ value: number } & Component) | undefined;

/** In which units a comparison is given. */
export interface ComparedUnits {
  pressureUnit: PressureUnit;
  signalUnit: SignalUnit;
}

/**
 * The change of every compared quantity from one study to the other, each with its interval at `confidence`.
 * Deviations that come from few independent stretches carry few degrees of freedom, so each interval is Student's on the
 * effective degrees of both sweeps and their meters together (JCGM 100:2008, G.4).
 */
export function changesOf(
  a: Study,
  b: Study,
  units: ComparedUnits,
  confidence: number,
): Record<ComparedQuantity, Change> {
  const was = quantitiesOf(a, units);
  const now = quantitiesOf(b, units);
  const change = (name: ComparedQuantity) => changeOf(was[name], now[name], confidence);
  return {
    lowEdge: change('lowEdge'),
    highEdge: change('highEdge'),
    plateau: change('plateau'),
    windowWidth: change('windowWidth'),
    noise: change('noise'),
    lag: change('lag'),
  };
}

function quantitiesOf(
  found: Study,
  { pressureUnit, signalUnit }: ComparedUnits,
): Record<ComparedQuantity, MeasuredQuantity> {
  const { interval, setup, sweep, lag } = found;
  const pressure = (value: number) => convertPressure(value, sweep.pressureUnit, pressureUnit);
  const signal = (value: number) => convertSignal(value, sweep.signalUnit, signalUnit) ?? Number.NaN;
  // What a meter is wrong by is a constant of the visit: known as well as its maker says, whatever the sweep.
  const meter = (u: number): Component => ({ u, degrees: Infinity });
  const manometer = (value: number) => meter(pressureUncertainty(setup, sweep.pressureUnit, value));
  const known = (value: number, parts: Component[], into: (value: number) => number): MeasuredQuantity => {
    const { u, degrees } = combineUncertainty(parts);
    return Number.isFinite(u) ? { value: into(value), u: into(u), degrees } : undefined;
  };
  const edge = (side: 'low' | 'high'): MeasuredQuantity => {
    const end = interval[side];
    return end?.bounded ? known(end.value, [end.plain, manometer(end.value)], pressure) : undefined;
  };
  const width = (): MeasuredQuantity => {
    const { low, high } = interval;
    if (!low?.bounded || !high?.bounded) return undefined;
    const parts = [
      widthUncertainty(low.plain, high.plain, interval.replicates),
      manometer(low.value),
      manometer(high.value),
    ];
    return known(high.value - low.value, parts, pressure);
  };
  const level = interval.plateau;
  const voltmeter = meter(signalUncertainty(setup, sweep.signalUnit, level.value));
  return {
    lowEdge: edge('low'),
    highEdge: edge('high'),
    windowWidth: width(),
    plateau: known(level.value, [level.plain, voltmeter], signal),
    noise: found.curve.shape.clipped ? undefined : known(found.steadiness.plateauSd, scatterUncertainty(found), signal),
    lag: known(lag.value, [lag.plain], (value) => value),
  };
}

/**
 * Doubt of the distance between both ends. They are drawn together, so what moves both (the lag, the plateau) is not
 * counted twice: u^2 = low^2 + high^2 - 2 cov, the covariance from the spreads of sum and difference, which outliers do
 * not reach (Gnanadesikan and Kettenring 1972, Biometrics 28, 81).
 */
function widthUncertainty(
  low: Component,
  high: Component,
  draws: { low: Float64Array; high: Float64Array },
): Component {
  const apart = combineUncertainty([low, high]);
  const together = (sign: 1 | -1) =>
    percentileDeviation(
      draws.high
        .map((value, b) => value + sign * draws.low[b]!)
        .filter(Number.isFinite)
        .sort(),
    ) ** 2;
  const covariance = (together(1) - together(-1)) / 4;
  const square = apart.u ** 2 - 2 * covariance;
  return square > 0 ? { u: Math.sqrt(square), degrees: apart.degrees } : apart;
}

/**
 * Doubt of a plateau's scatter (where the amplifier cuts the signal off at its top there is none left to compare): what
 * its readings leave, one part in the root of their degrees, and what the meter's last digit leaves, since the median of deviations that go in
 * steps is known to half a step only (a rectangle, JCGM 100:2008 F.2.2.1).
 */
const scatterUncertainty = ({ noiseDegrees, steadiness, sweep }: Study): Component[] => [
  { u: steadiness.plateauSd / Math.sqrt(noiseDegrees), degrees: noiseDegrees },
  { u: (madFactor * resolutionOf(sweep.signal.value)) / Math.sqrt(12), degrees: Infinity },
];

function changeOf(was: MeasuredQuantity, now: MeasuredQuantity, confidence: number): Change {
  if (!was || !now)
    return { before: was?.value ?? null, after: now?.value ?? null, change: null, ci: null, significant: false };
  const change = now.value - was.value;
  const { u, degrees } = combineUncertainty([was, now]);
  const half = coverageFactor(confidence, degrees) * u;
  return {
    before: was.value,
    after: now.value,
    change,
    ci: [change - half, change + half],
    significant: Math.abs(change) > half,
  };
}
