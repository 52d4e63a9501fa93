import { robustDeviation } from '../../../numerics/robust.ts';
import { slicesOf } from '../../sweep/series/slices.ts';

/** A pressure beyond which the signal is no longer steady, on one side of the plateau. */
export interface UnsteadyEnd {
  side: 'low' | 'high';
  value: number;
  /** From the middle of the innermost slice that is unsteady to the inner edge of the outermost one that is not. */
  ci: [number, number];
  /** Standard deviation of the signal there, in its unit. */
  scatter: number;
}

/** How steady the signal is between the ends. */
export interface Steadiness {
  /** Standard deviation of the signal on the plateau, in its unit, and readings behind it. */
  plateauSd: number;
  plateauCount: number;
  ends: UnsteadyEnd[];
}

/** Slices of pressure between the ends, and the fewest readings of one that show its scatter. */
const slices = 16;
const minReadings = 6;
/**
 * Six readings give a robust deviation to within 47 %, 1 / sqrt(2 n 0.37) with the efficiency of Rousseeuw and Croux 1993, JASA
 * 88, 1273: four times the plateau's scatter in two neighboring slices is no chance.
 */
const unsteadyRatio = 4;
/** Half of the usual drop that sets the ends: a signal that scatters by less is above what is required nearly all the time. */
const unsteadyShare = 0.05;

/**
 * How much the signal scatters on the plateau, and from which pressures outward it scatters clearly more: more than
 * 4 times the plateau's own scatter and more than 5 % of its level, in two neighboring slices of pressure. No standard gives
 * limits for an unsteady flame.
 *
 * @param pressure, residual  per reading, lag removed, same length
 * @param ends                lowest and highest good pressure
 * @param plateau             level of the plateau, in the signal's unit
 */
export function findUnsteady(
  pressure: Float64Array,
  residual: Float64Array,
  [low, high]: [number, number],
  plateau: number,
): Steadiness {
  const width = (high - low) / slices;
  const bySlice = slicesOf(pressure, residual, [low, high], slices);
  const scatter = bySlice.map((list) =>
    list.length < minReadings ? Number.NaN : robustDeviation(Float64Array.from(list)),
  );
  const sorted = scatter.filter((value) => !Number.isNaN(value)).sort((a, b) => a - b);
  const typical = sorted[sorted.length >> 1] ?? robustDeviation(residual);
  const middle = bySlice.slice(slices / 4, (3 * slices) / 4).flat();
  const plateauSd = middle.length >= minReadings ? robustDeviation(Float64Array.from(middle)) : typical;
  const limit = Math.max(unsteadyRatio * Math.min(typical, plateauSd), unsteadyShare * Math.abs(plateau));
  const isUnsteady = (slice: number) => scatter[slice]! > limit;
  // From the middle outward to the first unsteady slice whose outer neighbor is unsteady, missing or without a scatter.
  const firstUnsteady = (by: 1 | -1) => {
    const outside = by < 0 ? -1 : slices;
    let i = slices >> 1;
    const isConfirmed = () => i + by === outside || isUnsteady(i + by) || Number.isNaN(scatter[i + by]!);
    while (i !== outside && !(isUnsteady(i) && isConfirmed())) i += by;
    return i === outside ? undefined : i;
  };
  const end = (side: 'low' | 'high'): UnsteadyEnd[] => {
    const by = side === 'low' ? -1 : 1;
    const found = firstUnsteady(by);
    if (found === undefined) return [];
    // A slice scatters by its median deviation only when most of its readings do; one without a scatter may be either.
    let steady = found - by;
    while (steady >= 0 && steady < slices && Number.isNaN(scatter[steady]!)) steady -= by;
    const limits = [low + (found + 0.5) * width, low + (steady + (side === 'low' ? 1 : 0)) * width];
    return [
      {
        side,
        value: low + (side === 'low' ? found + 1 : found) * width,
        ci: [Math.min(...limits), Math.max(...limits)],
        scatter: scatter[found]!,
      },
    ];
  };
  return { plateauSd, plateauCount: middle.length, ends: [...end('low'), ...end('high')] };
}
