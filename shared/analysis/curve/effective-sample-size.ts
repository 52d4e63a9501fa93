import type { CurveFit } from './fit-shape.ts';
import { varianceInflation } from '../../numerics/autocorrelation.ts';
import { extent, median } from '../../numerics/descriptive.ts';

/**
 * Seconds over which what is new in the residuals stays correlated after all. Flicker lives on the shoulders, where the ends are
 * decided; the plateau's own noise, mostly the meter's, must not dilute it.
 */
export function correlationTime(curve: CurveFit, times: Float64Array): number {
  const n = times.length;
  const step = (times[n - 1]! - times[0]!) / (n - 1);
  const onShoulder = shareOf(curve).map((share) => Number(share > 0.1 && share < 0.97));
  const inflation = Math.max(
    varianceInflation(curve.whitenedResidual),
    varianceInflation(curve.whitenedResidual, onShoulder),
  );
  // An exponential correlation of time T inflates the variance 2 T / step times.
  return Math.min(4, (step * inflation) / 2);
}

/** Height of each predicted signal between the least, 0, and the greatest, 1. */
function shareOf(curve: CurveFit): Float64Array {
  const [low, high] = extent(curve.predicted);
  return curve.predicted.map((value) => (value - low) / (high - low || 1));
}

export interface Crossing {
  seconds: number;
  readings: number;
}

/** Seconds the sweep spent on the low and on the high shoulder, where the ends are decided, and readings from there. */
export function crossingsOf(
  curve: CurveFit,
  times: Float64Array,
  pressure: Float64Array,
): { low: Crossing; high: Crossing } {
  const share = shareOf(curve);
  const good = median(pressure.filter((_, i) => share[i]! >= 0.97));
  const found = { low: { seconds: 0, readings: 0 }, high: { seconds: 0, readings: 0 } };
  for (let i = 1; i < times.length; i += 1)
    if (share[i]! > 0.1 && share[i]! < 0.97) {
      const side = found[pressure[i]! < good ? 'low' : 'high'];
      side.seconds += Math.min(2, times[i]! - times[i - 1]!);
      side.readings += 1;
    }
  return found;
}
