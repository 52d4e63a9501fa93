import type { StateSpan } from '../../../burner-state/track.ts';
import type { InitialEstimates } from '../series/initial-estimates.ts';
import { burns } from './gas-off.ts';
import { pressureAt, type PressureGrid } from '../series/pressure-grid.ts';
import { hasGap, longestGap, type Series } from '../series/series.ts';

/** A stretch in which the signal was dark: first estimates of when the flame was lost and when it burned again, seconds. */
export interface DarkStretch {
  lostS: number;
  /** Infinity: not again within the sweep. */
  relitS: number;
  /** Delay of the signal that both were estimated with. */
  delayS: number;
  /** The burner's states say that the flame was lost with gas on, however low the signal was by then. */
  isKnown: boolean;
}

/** A plateau less clear of the noise than this, in deviations, shows no loss: a tenth of it would be within the noise. */
const minPlateau = 10;
/** Up to this share of the plateau the signal counts as dark; a burning flame sags so low on the foot of a shoulder only. */
const darkShare = 0.1;
/** A dark stretch lasts at least half a second and three readings: one reading alone may be a spike. */
const minDarkS = 0.5;
const minDarkReadings = 3;

/**
 * Finds the stretches in which the signal was dark. One that began while the meter was silent is left out: it is unknown at
 * which pressure the flame went. None where the plateau does not stand clear of the noise.
 *
 * @param noise  standard deviation of the signal's noise, in its unit
 * @param spans  what the burner did, in the signal's seconds
 */
export function findDarkStretches(
  signal: Series,
  initial: InitialEstimates,
  noise: number,
  spans: readonly StateSpan[],
): DarkStretch[] {
  const { time, value } = signal;
  if (initial.plateau - initial.dark < minPlateau * noise) return [];
  const limit = initial.dark + darkShare * (initial.plateau - initial.dark);
  const half = initial.dark + 0.5 * (initial.plateau - initial.dark);
  const stretches: DarkStretch[] = [];
  const last = time.length - 1;
  const gapS = longestGap(signal);
  // Half way down, the signal follows a sudden loss by ln 2 of a first-order lag, and the reading before that is taken.
  const delayS = 0.6 * initial.lagS;
  for (let i = 0; i < time.length; i += 1) {
    if (value[i]! > limit) continue;
    let until = i;
    // One reading above the limit is noise of the dark, not a new flame.
    while (until < last && (value[until + 1]! <= limit || (until + 2 <= last && value[until + 2]! <= limit)))
      until += 1;
    if (until - i >= minDarkReadings - 1 && time[until]! - time[i]! >= minDarkS) {
      let before = i;
      while (before > 0 && value[before]! < half) before -= 1;
      let after = until;
      while (after < last && value[after]! < half) after += 1;
      if (!hasGap(time, before, i, gapS)) {
        const fellS = time[before]! - delayS;
        const relitS = after >= last && value[last]! < half ? Infinity : time[after]! - delayS;
        if (isBurningThroughout(spans, fellS, relitS)) {
          i = until;
          continue;
        }
        const toldS = toldLost(spans, fellS, relitS);
        // Low on a shoulder the signal was at half its height long before.
        const lostS = toldS === undefined ? fellS : Math.max(fellS, Math.min(toldS, time[i]! - delayS));
        stretches.push({ lostS, relitS, delayS, isKnown: toldS !== undefined });
      }
    }
    i = until;
  }
  return stretches;
}

/**
 * Since when the burner's states tell of a lost flame within a stretch of the signal, seconds: from the doubt on that goes before, in which
 * the flame was missed already. Undefined where they tell of none.
 */
function toldLost(spans: readonly StateSpan[], fromS: number, toS: number): number | undefined {
  const lost = spans.findIndex((span) => span.flame === 'lost' && span.from_s < toS && span.to_s > fromS);
  if (lost < 0) return undefined;
  return spans[spans[lost - 1]?.flame === 'unknown' ? lost - 1 : lost]!.from_s;
}

/** Whether the burner's states are sure of a flame over a stretch of the signal, however low it was. */
function isBurningThroughout(spans: readonly StateSpan[], fromS: number, toS: number): boolean {
  const during = spans.filter(({ from_s, to_s }) => from_s < toS && to_s > fromS);
  return during.length > 0 && during.every(burns);
}

/**
 * Pressures at which the flame was lost.
 *
 * @param x     a parameter vector that ends in pairs of times, seconds: lost, and burning again
 * @param from  index of the first pair
 */
export function lossPressures(grid: PressureGrid, x: Float64Array, from: number): number[] {
  const losses: number[] = [];
  for (let at = from; at + 1 < x.length; at += 2) losses.push(pressureAt(grid, x[at]!));
  return losses;
}
