import type { Estimate } from '../curve/estimate.ts';

/** How much of the longer side of its interval the shorter one has at least: how skewed an end is shows in few blocks only roughly. */
const leastSideShare = 0.5;

/**
 * The same end, each side of its interval at least half as long as the other. Where a plateau sags into a shoulder the replicates lie
 * far on one side; that the true end lies on the other they tell from the same few readings of one or two crossings.
 */
export function withLeastSides<T extends Estimate>(end: T): T {
  const { value, ci } = end;
  const [below, above] = [value - ci[0], ci[1] - value];
  return {
    ...end,
    ci: [value - Math.max(below, leastSideShare * above), value + Math.max(above, leastSideShare * below)],
  };
}

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
