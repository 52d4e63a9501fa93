import { unimodal } from './isotonic.ts';
import { median } from './robust.ts';

/** Slices of pressure that the check looks at. */
const slices = 40;

/**
 * How far the fitted curve lies from the free one: the median signal of each slice of pressure, made to rise and then fall
 * and nothing else. Root mean square over the slices that hold readings, as a share of the plateau.
 *
 * @param pressure, signal, fitted  per reading, lag removed, same length
 */
export function distanceFromFreeCurve(
  pressure: Float64Array,
  signal: Float64Array,
  fitted: Float64Array,
  [low, high]: [number, number],
  plateau: number,
): number {
  const bySlice = Array.from({ length: slices }, () => ({ signal: [] as number[], fitted: [] as number[] }));
  pressure.forEach((p, i) => {
    const slice = bySlice[Math.min(slices - 1, Math.max(0, Math.floor(((p - low) / (high - low)) * slices)))]!;
    slice.signal.push(signal[i]!);
    slice.fitted.push(fitted[i]!);
  });
  const held = bySlice.filter((slice) => slice.signal.length > 0);
  const middle = (values: number[]) => median(Float64Array.from(values));
  const free = unimodal(
    Float64Array.from(held, (slice) => middle(slice.signal)),
    Float64Array.from(held, (slice) => slice.signal.length),
  );
  const squares = held.reduce((sum, slice, i) => sum + (free[i]! - middle(slice.fitted)) ** 2, 0);
  return Math.sqrt(squares / held.length) / Math.abs(plateau);
}
