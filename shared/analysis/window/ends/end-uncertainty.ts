import type { Estimate } from '../../curve/estimate.ts';

/** Longest time in which a flame that is beyond its end leaves the nozzle, seconds (common practice: some tenths of a second). */
const leavingS = 0.3;

/**
 * The same end, where the flame was lost, with the pressure that was turned through while the flame was leaving the nozzle: the end
 * lies inside the pressure at which it was gone.
 *
 * @param rate  how fast the pressure moved then, pressure per second, at least 0
 */
export function withLeaving<T extends Estimate>(end: T, side: 'low' | 'high', rate: number): T {
  const { value, ci } = end;
  const inward = (half: number) => Math.hypot(half, leavingS * rate);
  return {
    ...end,
    ci: side === 'low' ? [ci[0], value + inward(ci[1] - value)] : [value - inward(value - ci[0]), ci[1]],
  };
}
