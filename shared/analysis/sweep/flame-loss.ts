import type { InitialEstimates } from './initial-estimates.ts';
import { type PressureGrid, pressureAt } from './pressure-grid.ts';
import { extent, quantileSorted } from '../../numerics/descriptive.ts';
import { longestGap, type Series } from './series.ts';

/** A stretch in which the signal was dark: first guesses of when the flame was lost and when it burnt again, seconds. */
export interface DarkStretch {
  lostS: number;
  relitS: number;
  /** By how much later the signal showed it, as guessed for these. */
  delayS: number;
}

/**
 * Stretches with the signal within a tenth of dark, for at least half a second and three readings. One that began while the
 * meter was silent is left out: nobody saw at which pressure the flame went. None where the plateau does not stand clear of
 * the noise: nothing was lost.
 *
 * @param noise  deviation of the signal's noise, in its unit
 */
export function findDarkStretches(signal: Series, look: InitialEstimates, noise: number): DarkStretch[] {
  const { time, value } = signal;
  if (look.plateau - look.dark < 10 * noise) return [];
  const limit = look.dark + 0.1 * (look.plateau - look.dark);
  const half = look.dark + 0.5 * (look.plateau - look.dark);
  const found: DarkStretch[] = [];
  const last = time.length - 1;
  const unseen = longestGap(signal);
  const delayS = 0.6 * look.lagS;
  for (let i = 0; i < time.length; i += 1) {
    if (value[i]! > limit) continue;
    let end = i;
    // One reading that peeps out is noise of the dark, not a new flame.
    while (end < last && (value[end + 1]! <= limit || (end + 2 <= last && value[end + 2]! <= limit))) end += 1;
    if (end - i >= 2 && time[end]! - time[i]! >= 0.5) {
      let before = i;
      while (before > 0 && value[before]! < half) before -= 1;
      let after = end;
      while (after < last && value[after]! < half) after += 1;
      if (!hasGap(time, before, i, unseen))
        found.push({
          lostS: time[before]! - delayS,
          relitS: after >= last && value[last]! < half ? Infinity : time[after]! - delayS,
          delayS,
        });
    }
    i = end;
  }
  return found;
}

/** Whether two neighbouring times between two places lie further apart than `longest`. */
function hasGap(time: Float64Array, from: number, to: number, longest: number): boolean {
  for (let i = from; i < to; i += 1) if (time[i + 1]! - time[i]! > longest) return true;
  return false;
}

/**
 * Readings to leave out because the pilot gas was shut: the pressure fell by more than half within 1.5 s, as no hand on a
 * regulator does it, and to next to nothing: a hand in a hurry stops while there is a flame (common practice). They are left
 * out until the gas came back and the flame was seen again. 1 keeps a reading.
 *
 * @param fanOnly  what the manometer shows with the gas shut and the fan running, same unit as the pressure
 */
export function whileGasFlows(grid: PressureGrid, signal: Series, settleS: number, fanOnly: number): Uint8Array {
  const { time, value } = signal;
  const keep = new Uint8Array(time.length).fill(1);
  const back = Math.max(1, Math.round(1.5 / grid.stepS));
  const { pressure } = grid;
  const [, highest] = extent(pressure);
  const seen = quantileSorted(Float64Array.from(value).sort(), 0.9) / 2;
  for (let i = back; i < pressure.length; i += 1) {
    const before = pressure[i - back]!;
    if (!(pressure[i]! < 0.5 * before && before - pressure[i]! > 0.1 * highest)) continue;
    let end = i;
    let least = Infinity;
    for (; end < pressure.length && pressure[end]! < 0.7 * before; end += 1) least = Math.min(least, pressure[end]!);
    if (least > fanOnly + 0.05 * highest) continue;
    const from = grid.startS + (i - back) * grid.stepS;
    const gasBack = grid.startS + end * grid.stepS;
    let burns = time.findIndex((t, k) => t >= gasBack && value[k]! >= seen);
    if (burns < 0) burns = time.length - 1;
    // No longer than a trial and its purge (common practice: a minute): a flame that stays away later is a finding.
    const to = Math.min(time[burns]!, gasBack + 60) + settleS;
    for (let k = 0; k < time.length; k += 1) if (time[k]! >= from && time[k]! <= to) keep[k] = 0;
    i = Math.max(end, Math.round((to - grid.startS) / grid.stepS));
  }
  return keep;
}

/** Pressures at which the flame was lost and burnt again. */
export function lossPressures(grid: PressureGrid, x: Float64Array, from: number): { lost: number; burns: number }[] {
  const found: { lost: number; burns: number }[] = [];
  const end = grid.startS + (grid.pressure.length - 1) * grid.stepS;
  for (let at = from; at + 1 < x.length; at += 2)
    found.push({
      lost: pressureAt(grid, x[at]!),
      burns: x[at + 1]! < end ? pressureAt(grid, x[at + 1]!) : Number.NaN,
    });
  return found;
}
