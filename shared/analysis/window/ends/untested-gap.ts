import type { SignalEnd, SignalInterval } from './signal-interval.ts';

/** Two neighboring tested pressures that lie further apart than this, inH2O, leave a shoulder between them untested (common practice: it spans 0.1 to 0.5). */
export const widestGapInH2O = 0.15;

/**
 * The same interval, but an end between two tested pressures that lie far apart is only known to lie between them: no reading says how the
 * signal goes there, and a curve through a handful of pressures, as of a visit without a sweep, follows from its shape alone.
 *
 * @param pressures  of the readings while the flame burned, in the sweep's unit
 * @param widest     stretch without a reading across which the curve counts as known, in the same unit
 */
export function withUntestedGaps(interval: SignalInterval, pressures: Float64Array, widest: number): SignalInterval {
  const within = (end: SignalEnd | undefined) => end && withUntestedGap(end, pressures, widest);
  const [low, high] = [within(interval.low), within(interval.high)];
  return { ...interval, ...(low && { low }), ...(high && { high }) };
}

function withUntestedGap(end: SignalEnd, pressures: Float64Array, widest: number): SignalEnd {
  if (!end.bounded || end.flameLost) return end;
  let below = -Infinity;
  let above = Infinity;
  for (const pressure of pressures) {
    if (pressure <= end.value) below = Math.max(below, pressure);
    if (pressure >= end.value) above = Math.min(above, pressure);
  }
  const width = above - below;
  if (!(Number.isFinite(width) && width > widest)) return end;
  // Anywhere between (rectangle, JCGM 100:2008 4.3.7).
  const standardError = Math.max(end.standardError, width / Math.sqrt(12));
  return {
    ...end,
    standardError,
    component: { u: standardError, degrees: Infinity },
    ci: [Math.min(end.ci[0], below), Math.max(end.ci[1], above)],
  };
}
