import { percentileDeviation } from '../../../numerics/robust.ts';
import type { Replicates } from '../../curve/bootstrap.ts';
import { curveAt, sharpClip } from '../../curve/model/curve-model.ts';
import type { CurveFit } from '../../curve/fit-shape.ts';
import { shownBy } from '../../sweep/meter-faults/meter-range.ts';
import type { CurveEnd, CurveEnds } from './curve-ends.ts';

/** What each replicate says, one number for each; an end is NaN where there is none. */
export interface DrawnEnds {
  plateau: Float64Array;
  low: Float64Array;
  high: Float64Array;
  /** Level at each of the pressures that were asked for. */
  levels: Float64Array[];
}

/**
 * Plateau, ends and levels of every replicate by the tangent of the fitted curve: each moves as its derivative by the parameters says
 * (delta method). The parameters of a wide shoulder compensate each other; a curve that is drawn anew from one linear step in them lies
 * beside every curve that fits the readings, and its highest level always above.
 * Sources: Oehlert 1992, The American Statistician 46, 27 (delta method); Milgrom and Segal 2002, Econometrica 70, 583 (the derivative of a
 * highest level is that of the level at its place).
 *
 * @param ends       of the fitted curve
 * @param pressures  at which levels are wanted, in the sweep's unit
 * @param limitsOf   pressures below and above which the flame was lost, at some parameters
 */
export function drawEnds(
  { fit, layout, scale, range }: CurveFit,
  replicates: Replicates,
  ends: CurveEnds,
  pressures: Float64Array,
  dropFraction: number,
  limitsOf: (x: Float64Array) => readonly [number, number],
): DrawnEnds {
  const { count, size } = replicates;
  const { low, high, plateau, top } = ends;
  const at = Float64Array.of(...pressures, top, low?.value ?? top, high?.value ?? top);
  const level = new Float64Array(at.length);
  const slopes = new Float64Array(at.length * size);
  curveAt(sharpClip(fit.parameters, layout), layout, scale, at, level, slopes);
  // Beyond the ends of its range the meter shows none of what the signal does.
  level.forEach((value, row) => {
    const shown = shownBy(range, value);
    if (shown !== value) slopes.fill(0, row * size, (row + 1) * size);
    level[row] = shown;
  });
  const step = new Float64Array(size);
  const change = (row: number) => {
    let sum = 0;
    for (let i = 0; i < size; i += 1) sum += slopes[row * size + i]! * step[i]!;
    return sum;
  };
  const n = pressures.length;
  const numbers = () => new Float64Array(count);
  const drawn: DrawnEnds = {
    plateau: numbers(),
    low: numbers(),
    high: numbers(),
    levels: Array.from(pressures, numbers),
  };
  const draw = (end: CurveEnd | undefined, row: number, requiredChange: number, loss: number, by: 1 | -1): number => {
    if (!end?.bounded) return Number.NaN;
    const crossing = end.flameLost ? by * Infinity : end.value - (change(row) - requiredChange) / end.slope;
    return by < 0 ? Math.max(crossing, loss) : Math.min(crossing, loss);
  };
  const isDrop = ends.required === (1 - dropFraction) * plateau;
  for (let b = 0; b < count; b += 1) {
    const x = replicates.parameters.subarray(b * size, (b + 1) * size);
    for (let i = 0; i < size; i += 1) step[i] = x[i]! - fit.parameters[i]!;
    for (let i = 0; i < n; i += 1) drawn.levels[i]![b] = level[i]! + change(i);
    const plateauChange = change(n);
    const requiredChange = isDrop ? (1 - dropFraction) * plateauChange : 0;
    const [below, above] = limitsOf(x);
    drawn.plateau[b] = plateau + plateauChange;
    drawn.low[b] = draw(low, n + 1, requiredChange, below, -1);
    drawn.high[b] = draw(high, n + 2, requiredChange, above, 1);
  }
  const byRequired = isDrop ? 1 - dropFraction : 0;
  const uncertaintyOf = (end: CurveEnd, row: number) =>
    deviationOf(
      step.map((_, i) => (slopes[row * size + i]! - byRequired * slopes[n * size + i]!) / end.slope),
      replicates.covariance,
    );
  spreadToAtLeast(
    drawn.plateau,
    plateau,
    deviationOf(slopes.subarray(n * size, (n + 1) * size), replicates.covariance),
  );
  if (low?.bounded && !low.flameLost) spreadToAtLeast(drawn.low, low.value, uncertaintyOf(low, n + 1));
  if (high?.bounded && !high.flameLost) spreadToAtLeast(drawn.high, high.value, uncertaintyOf(high, n + 2));
  return drawn;
}

/** Standard uncertainty of what moves by so much for each parameter (JCGM 100:2008, 5.2.2). */
function deviationOf(slopes: Float64Array, covariance: Float64Array): number {
  const n = slopes.length;
  let sum = 0;
  for (let i = 0; i < n; i += 1) for (let j = 0; j < n; j += 1) sum += slopes[i]! * covariance[i * n + j]! * slopes[j]!;
  return Math.sqrt(Math.max(0, sum));
}

/**
 * Spreads replicates about the fitted value, in place, where they scatter less than noise of the fitted size makes them: a fit goes
 * through the few readings of one crossing more closely than through those that it does not have.
 */
function spreadToAtLeast(drawn: Float64Array, value: number, uncertainty: number): void {
  const ratio = uncertainty / percentileDeviation(drawn);
  if (ratio > 1 && ratio < Infinity)
    for (let b = 0; b < drawn.length; b += 1) drawn[b] = value + ratio * (drawn[b]! - value);
}
