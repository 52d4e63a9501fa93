import { curveAt } from './model/curve-model.ts';
import type { CurveFit } from './fit-shape.ts';

/** Each way must contribute at least this share of the information on a shift, or one way only was swept. */
const minShare = 0.05;

/**
 * Shift of the curve between turning in and turning out, in pressure, once the lag is removed: one linear step for a shift of
 * opposite sign on the two ways. Positive: turning in shows the ends at higher pressures.
 * Undefined when not both ways cross a shoulder.
 *
 * @param pressure   pressure that belongs to each reading, lag removed
 * @param direction  +1 turning in, -1 turning out, 0 at rest; same length
 */
export function hysteresisOf(curve: CurveFit, pressure: Float64Array, direction: Float64Array): number | undefined {
  const n = pressure.length;
  const h = 0.002 * curve.scale.half;
  const [above, below] = [new Float64Array(n), new Float64Array(n)];
  const evaluate = (shift: number, into: Float64Array) =>
    curveAt(
      curve.fit.parameters,
      curve.layout,
      curve.scale,
      pressure.map((p) => p + shift),
      into,
    );
  evaluate(h, above);
  evaluate(-h, below);
  let cross = 0;
  let square = 0;
  const each = { turningIn: 0, turningOut: 0 };
  for (let i = 0; i < n; i += 1) {
    // Moving the curve up in pressure by half the shift lowers the prediction by slope times that.
    const effect = -(((above[i]! - below[i]!) / (2 * h)) * direction[i]!) / 2;
    const weighted = effect * curve.weight[i]!;
    cross += weighted * curve.residual[i]! * curve.weight[i]!;
    square += weighted * weighted;
    if (direction[i]! > 0) each.turningIn += weighted * weighted;
    if (direction[i]! < 0) each.turningOut += weighted * weighted;
  }
  if (Math.min(each.turningIn, each.turningOut) < minShare * square || square === 0) return undefined;
  return cross / square;
}
