import { curveAt } from './curve-model.ts';
import type { CurveFit } from './fit-shape.ts';

/**
 * How far the curve of the way up lies from that of the way down, in pressure, once the lag is removed: one linear step
 * for a shift of opposite sign on the two ways. Positive: turning in shows the edges at higher pressures.
 * Undefined when not both ways cross a shoulder.
 *
 * @param pressure   pressure that belongs to each reading, lag removed
 * @param direction  +1 turning in, -1 turning out, 0 at rest, same length
 */
export function hysteresisOf(curve: CurveFit, pressure: Float64Array, direction: Float64Array): number | undefined {
  const n = pressure.length;
  const h = 0.002 * curve.scale.half;
  const above = new Float64Array(n);
  const below = new Float64Array(n);
  curveAt(
    curve.fit.parameters,
    curve.layout,
    curve.scale,
    pressure.map((p) => p + h),
    above,
  );
  curveAt(
    curve.fit.parameters,
    curve.layout,
    curve.scale,
    pressure.map((p) => p - h),
    below,
  );
  let cross = 0;
  let square = 0;
  const each = { up: 0, down: 0 };
  for (let i = 0; i < n; i += 1) {
    // Moving the curve up in pressure by half the shift lowers the prediction by slope times that.
    const effect = -(((above[i]! - below[i]!) / (2 * h)) * direction[i]!) / 2;
    const weighted = effect * curve.weight[i]!;
    cross += weighted * curve.residual[i]! * curve.weight[i]!;
    square += weighted * weighted;
    if (direction[i]! > 0) each.up += weighted * weighted;
    if (direction[i]! < 0) each.down += weighted * weighted;
  }
  if (Math.min(each.up, each.down) < 0.05 * square || square === 0) return undefined;
  return cross / square;
}
