import { extent } from '../../../numerics/descriptive.ts';
import type { SignalInterval } from './signal-interval.ts';

/** Pressures at which the steady curve lies less than a third of the allowed drop below its top: away from the shoulders. */
export function flatPart({ curve, plateau, required }: SignalInterval): [number, number] {
  const lowest = plateau.value - Math.abs(plateau.value - required.value) / 3;
  return extent(curve.pressure.filter((_, i) => curve.signal[i]! >= lowest));
}
