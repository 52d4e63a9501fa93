import { exp } from '../../numerics/elementary.ts';
import type { Layout } from './shape.ts';

/** The lagged signal of a flame that always burns, at any time: its level, signal per second, and derivatives. */
export interface UninterruptedSignal {
  levelAt: (timeS: number) => number;
  rateAt: (timeS: number) => number;
  /** Writes the derivative by each parameter to `to` from `at` on; at `lagRoot` that by the first-order lag. */
  slopesAt: (timeS: number, to: Float64Array, at: number) => void;
}

/**
 * One time without flame. From `lostS` on the lagged signal falls from `above` over the dark as exp(-t / lag); from
 * `relitS` on it lags `missing` behind that of a flame that always burns, less and less. Exact, and so the same whichever way
 * a delay is shared between the dead time and the moment of the loss: the readings must not seem to tell the two apart.
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
 * The outages of a parameter vector, in the order in which it has them.
 *
 * @param lag      seconds of first-order lag
 * @param burning  when given, derivatives go along
 */
export function outagesOf(
  x: Float64Array,
  layout: Layout,
  lag: number,
  levelAt: UninterruptedSignal['levelAt'],
  burning?: UninterruptedSignal,
): Outage[] {
  const found: Outage[] = [];
  if (layout.flameLoss < 0) return found;
  const dark = layout.dark < 0 ? 0 : x[layout.dark]!;
  for (let at = layout.flameLoss; at + 1 < layout.size; at += 2) {
    const [lostS, relitS] = [x[at]!, Math.max(x[at]!, x[at + 1]!)];
    const fallen = exp(-(relitS - lostS) / lag);
    const above = withOutages(found, lostS, lag, levelAt) - dark;
    const missing = levelAt(relitS) - dark - above * fallen;
    const outage: Outage = { lostS, relitS, dark, above, missing };
    if (burning) {
      const aboveSlopes = new Float64Array(layout.size);
      aboveSlopes[at]! += slopesWithOutages(found, lostS, lag, layout, burning, aboveSlopes, 0);
      if (layout.dark >= 0) aboveSlopes[layout.dark]! -= 1;
      const missingSlopes = new Float64Array(layout.size);
      burning.slopesAt(relitS, missingSlopes, 0);
      for (let j = 0; j < layout.size; j += 1) missingSlopes[j]! -= aboveSlopes[j]! * fallen;
      missingSlopes[at]! -= (above * fallen) / lag;
      missingSlopes[at + 1]! += burning.rateAt(relitS) + (above * fallen) / lag;
      missingSlopes[layout.lagRoot]! -= (above * fallen * (relitS - lostS)) / lag ** 2;
      if (layout.dark >= 0) missingSlopes[layout.dark]! -= 1;
      Object.assign(outage, { aboveSlopes, missingSlopes });
    }
    found.push(outage);
  }
  return found;
}

/** The lagged signal at a time, after the last outage that had begun by then. */
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
 * first-order lag.
 *
 * @returns signal per second just then
 */
export function slopesWithOutages(
  outages: Outage[],
  timeS: number,
  lag: number,
  layout: Layout,
  burning: UninterruptedSignal,
  into: Float64Array,
  row: number,
): number {
  const last = lastBefore(outages, timeS);
  if (!last) {
    burning.slopesAt(timeS, into, row);
    return burning.rateAt(timeS);
  }
  const at = layout.flameLoss + 2 * outages.indexOf(last);
  const out = timeS < last.relitS;
  const since = timeS - (out ? last.lostS : last.relitS);
  const left = exp(-since / lag);
  const [size, slopes, sign] = out ? [last.above, last.aboveSlopes!, 1] : [last.missing, last.missingSlopes!, -1];
  if (out) {
    into.fill(0, row, row + layout.size);
    if (layout.dark >= 0) into[row + layout.dark] = 1;
  } else burning.slopesAt(timeS, into, row);
  for (let j = 0; j < layout.size; j += 1) into[row + j]! += sign * slopes[j]! * left;
  into[row + (out ? at : at + 1)]! += (sign * size * left) / lag;
  into[row + layout.lagRoot]! += (sign * size * left * since) / lag ** 2;
  return (out ? 0 : burning.rateAt(timeS)) - (sign * size * left) / lag;
}

function lastBefore(outages: Outage[], timeS: number): Outage | undefined {
  for (let k = outages.length - 1; k >= 0; k -= 1) if (timeS > outages[k]!.lostS) return outages[k];
  return undefined;
}
