import { robustDeviation } from '../../numerics/robust.ts';

/** A pressure beyond which the signal is no longer steady, on one side of the plateau. */
export interface UnsteadyEnd {
  side: 'low' | 'high';
  value: number;
  /** Scatter there and on the plateau, in the signal's unit. */
  scatter: number;
}

/**
 * How much the signal scatters on the plateau, and from which pressures outwards it scatters clearly more: more than
 * 4 times the plateau's own scatter and more than 5 % of its level, in two neighbouring slices of pressure.
 * Both limits are common practice for an unsteady flame; no standard gives them.
 *
 * @param pressure, residual  per reading, lag removed, same length
 */
export function findUnsteady(
  pressure: Float64Array,
  residual: Float64Array,
  [low, high]: [number, number],
  plateau: number,
): { plateauSd: number; plateauCount: number; ends: UnsteadyEnd[] } {
  const slices = 16;
  const wide = (high - low) / slices;
  const bySlice: number[][] = Array.from({ length: slices }, () => []);
  for (let i = 0; i < pressure.length; i += 1) {
    const slice = Math.floor((pressure[i]! - low) / wide);
    if (slice >= 0 && slice < slices) bySlice[slice]!.push(residual[i]!);
  }
  const scatter = bySlice.map((list) => (list.length < 6 ? Number.NaN : robustDeviation(Float64Array.from(list))));
  const quiet = scatter.filter((value) => !Number.isNaN(value)).sort((a, b) => a - b);
  const calm = quiet[quiet.length >> 1] ?? robustDeviation(residual);
  const middle = bySlice.slice(4, 12).flat();
  const plateauSd = middle.length >= 6 ? robustDeviation(Float64Array.from(middle)) : calm;
  const limit = Math.max(4 * Math.min(calm, plateauSd), 0.05 * Math.abs(plateau));
  const wild = (slice: number) => scatter[slice]! > limit;
  const ends: UnsteadyEnd[] = [];
  let i = slices >> 1;
  while (i >= 0 && !(wild(i) && (i === 0 || wild(i - 1) || Number.isNaN(scatter[i - 1]!)))) i -= 1;
  if (i >= 0) ends.push({ side: 'low', value: low + (i + 1) * wide, scatter: scatter[i]! });
  i = slices >> 1;
  while (i < slices && !(wild(i) && (i === slices - 1 || wild(i + 1) || Number.isNaN(scatter[i + 1]!)))) i += 1;
  if (i < slices) ends.push({ side: 'high', value: low + i * wide, scatter: scatter[i]! });
  return { plateauSd, plateauCount: middle.length, ends };
}
