import { exp } from '../../../numerics/elementary.ts';
import type { Layout } from './shape.ts';

/** The lagged signal of a flame that always burns, at any time: its level, signal per second, and derivatives. */
export interface UninterruptedSignal {
  levelAt: (timeS: number) => number;
  rateAt: (timeS: number) => number;
  /** Writes the derivative by each parameter to `to` from `at` on; at `lagRoot` that by the first-order lag itself. */
  slopesAt: (timeS: number, to: Float64Array, at: number) => void;
}

/**
 * One time without flame. From `lostS` on the lagged signal falls from `above` over the dark as exp(-t / lag); from
 * `relitS` on it is short of that of a flame that always burns by `missing`, which decays alike. Exact, and so the same
 * whichever way a delay is shared between the dead time and the moment of the loss: the readings must not seem to
 * distinguish the two.
 */
export interface Outage {
  lostS: number;
  relitS: number;
  dark: number;
  above: number;
  missing: number;
  /** Derivatives of `above` and `missing` by each parameter; that by `lagRoot` is by the first-order lag itself. */
  aboveSlopes?: Float64Array;
  missingSlopes?: Float64Array;
}

/**
 * The outages of a parameter vector, in the order in which it has them. Times in seconds, levels in the signal's unit.
 *
 * @param lag            seconds of first-order lag
 * @param uninterrupted  when given, derivatives are computed as well
 */
export function outagesOf(
  x: Float64Array,
  layout: Layout,
  lag: number,
  levelAt: UninterruptedSignal['levelAt'],
  uninterrupted?: UninterruptedSignal,
): Outage[] {
  const outages: Outage[] = [];
  if (layout.flameLoss < 0) return outages;
  const dark = layout.dark < 0 ? 0 : x[layout.dark]!;
  for (let at = layout.flameLoss; at + 1 < layout.size; at += 2) {
    const [lostS, relitS] = [x[at]!, Math.max(x[at]!, x[at + 1]!)];
    const decay = exp(-(relitS - lostS) / lag);
    const above = withOutages(outages, lostS, lag, levelAt) - dark;
    const missing = levelAt(relitS) - dark - above * decay;
    const outage: Outage = { lostS, relitS, dark, above, missing };
    if (uninterrupted) {
      const aboveSlopes = new Float64Array(layout.size);
      aboveSlopes[at]! += slopesWithOutages(outages, lostS, lag, layout, uninterrupted, aboveSlopes, 0);
      if (layout.dark >= 0) aboveSlopes[layout.dark]! -= 1;
      const missingSlopes = new Float64Array(layout.size);
      uninterrupted.slopesAt(relitS, missingSlopes, 0);
      for (let j = 0; j < layout.size; j += 1) missingSlopes[j]! -= aboveSlopes[j]! * decay;
      missingSlopes[at]! -= (above * decay) / lag;
      missingSlopes[at + 1]! += uninterrupted.rateAt(relitS) + (above * decay) / lag;
      missingSlopes[layout.lagRoot]! -= (above * decay * (relitS - lostS)) / lag ** 2;
      if (layout.dark >= 0) missingSlopes[layout.dark]! -= 1;
      Object.assign(outage, { aboveSlopes, missingSlopes });
    }
    outages.push(outage);
  }
  return outages;
}

/**
 * The lagged signal at a time, after the last outage that had begun by then.
 *
 * @param lag  seconds of first-order lag
 */
export function withOutages(
  outages: Outage[],
  timeS: number,
  lag: number,
  levelAt: UninterruptedSignal['levelAt'],
): number {
  const last = lastBefore(outages, timeS);
  if (!last) return levelAt(timeS);
  if (timeS < last.relitS) return last.dark + last.above * exp(-(timeS - last.lostS) / lag);
  return levelAt(timeS) - last.missing * exp(-(timeS - last.relitS) / lag);
}

/**
 * Derivatives of the lagged signal at a time by each parameter, into `into` from `row` on; at `lagRoot` that by the
 * first-order lag itself.
 *
 * @param lag  seconds of first-order lag
 * @returns signal per second just then
 */
export function slopesWithOutages(
  outages: Outage[],
  timeS: number,
  lag: number,
  layout: Layout,
  uninterrupted: UninterruptedSignal,
  into: Float64Array,
  row: number,
): number {
  const last = lastBefore(outages, timeS);
  if (!last) {
    uninterrupted.slopesAt(timeS, into, row);
    return uninterrupted.rateAt(timeS);
  }
  const at = layout.flameLoss + 2 * outages.indexOf(last);
  const isOut = timeS < last.relitS;
  const since = timeS - (isOut ? last.lostS : last.relitS);
  const decay = exp(-since / lag);
  const [size, slopes, sign] = isOut ? [last.above, last.aboveSlopes!, 1] : [last.missing, last.missingSlopes!, -1];
  if (isOut) {
    into.fill(0, row, row + layout.size);
    if (layout.dark >= 0) into[row + layout.dark] = 1;
  } else uninterrupted.slopesAt(timeS, into, row);
  for (let j = 0; j < layout.size; j += 1) into[row + j]! += sign * slopes[j]! * decay;
  into[row + (isOut ? at : at + 1)]! += (sign * size * decay) / lag;
  into[row + layout.lagRoot]! += (sign * size * decay * since) / lag ** 2;
  return (isOut ? 0 : uninterrupted.rateAt(timeS)) - (sign * size * decay) / lag;
}

function lastBefore(outages: Outage[], timeS: number): Outage | undefined {
  for (let k = outages.length - 1; k >= 0; k -= 1) if (timeS > outages[k]!.lostS) return outages[k];
  return undefined;
}
