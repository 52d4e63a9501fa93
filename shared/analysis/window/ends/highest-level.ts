import { median } from '../../../numerics/descriptive.ts';
import type { Estimate } from '../../curve/estimate.ts';
import type { CurveEnds, SampledCurve } from './curve-ends.ts';

/**
 * By how much the highest level of a fitted curve is expected to lie above that of the true one, in the signal's unit, at least 0: a curve
 * that follows some of the noise is highest where the noise is. Drawn curves are to the fitted one as that is to the true one, so it is
 * the median of what their highest levels are above its own. 0 where noise moves the whole plateau alike.
 * Sources: Efron and Tibshirani 1993, An Introduction to the Bootstrap, 10.2 (bias); Chernozhukov, Lee and Rosen 2013, Econometrica 81, 667
 * (a highest level that is estimated comes out too high).
 *
 * @param ends      of the fitted curve; only pressures between them count, on a shoulder a drawn level means little
 * @param pressure  at which levels are drawn, rising, in the sweep's unit
 * @param levels    for each pressure the level of each of the drawn curves
 */
export function highestLevelBias(
  { low, high, plateau }: CurveEnds,
  pressure: Float64Array,
  levels: readonly Float64Array[],
): number {
  if (!low || !high) return 0;
  const good = levels.filter((_, i) => pressure[i]! >= low.value && pressure[i]! <= high.value);
  const [first] = good;
  if (!first) return 0;
  const highest = first.map((_, b) => good.reduce((most, level) => Math.max(most, level[b]!), -Infinity));
  return Math.max(0, median(highest) - plateau);
}

/**
 * The plateau with an interval that goes down by the bias of a highest level.
 * Source: JCGM 100:2008, F.2.4.5 (a bias that is not corrected is added to the expanded uncertainty on its side).
 */
export const withPlateauBias = <T extends Estimate>(plateau: T, bias: number): T => ({
  ...plateau,
  ci: [plateau.ci[0] - bias, plateau.ci[1]],
});

/**
 * How much farther out a curve has fallen by `by` more than to what is required at an end: pressure, at least 0. Where the curve does not fall
 * as far, up to its last pressure.
 *
 * @param required  at the end, in the signal's unit
 */
export function fallsFartherOut(
  { pressure, signal }: Pick<SampledCurve, 'pressure' | 'signal'>,
  value: number,
  side: 'low' | 'high',
  required: number,
  by: number,
): number {
  const step = side === 'low' ? -1 : 1;
  const count = pressure.length;
  let i = step > 0 ? pressure.findIndex((p) => p > value) : pressure.findLastIndex((p) => p < value);
  if (i < 0 || by === 0) return 0;
  let [p, level] = [value, required];
  const wanted = required - by;
  while (i >= 0 && i < count && signal[i]! > wanted) {
    [p, level] = [pressure[i]!, signal[i]!];
    i += step;
  }
  const at = i >= 0 && i < count ? p + ((level - wanted) / (level - signal[i]!)) * (pressure[i]! - p) : p;
  return Math.abs(at - value);
}

/**
 * The same end, its interval as much farther out as the curve needs to fall by what the bias makes the required signal too high.
 *
 * @param required      of the fitted curve, in the signal's unit
 * @param requiredBias  by how much that is too high
 */
export function withRequiredBias<T extends Estimate>(
  end: T,
  side: 'low' | 'high',
  curve: Pick<SampledCurve, 'pressure' | 'signal'>,
  required: number,
  requiredBias: number,
): T {
  const { value, ci } = end;
  const out = fallsFartherOut(curve, value, side, required, requiredBias);
  return { ...end, ci: side === 'low' ? [ci[0] - out, ci[1]] : [ci[0], ci[1] + out] };
}
