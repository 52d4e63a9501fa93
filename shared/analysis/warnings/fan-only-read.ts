import { convertPressure } from '../../model/units.ts';
import { median } from '../../numerics/descriptive.ts';
import type { Study } from '../study.ts';
import { longestGap } from '../sweep/series/series.ts';

/** A difference that neither a manometer's zero nor another speed of the fan explains, inH2O and as a share of what was entered. */
const leastInH2O = 0.1;
const leastShare = 0.25;
/** A manometer that shows less than this, inH2O, may stand with the fan off. */
const fanOffInH2O = 0.1;
/** Seconds for which it must have shown that, and how little it may move meanwhile, inH2O. */
const leastS = 5;
const steadyInH2O = 0.05;

/**
 * What the manometer rested at below the entered fan-only pressure, in the sweep's unit: with the fan running it cannot show less,
 * so the entry is wrong, or of another unit. Undefined where nothing contradicts the entry.
 */
export function fanOnlyRead({ setup, settings, sweep }: Study): number | undefined {
  if (!setup.fanOnlyPressure) return undefined;
  const inUnit = (inH2O: number) => convertPressure(inH2O, 'inH2O', sweep.pressureUnit);
  const highest = settings.fanOnly - Math.max(inUnit(leastInH2O), leastShare * settings.fanOnly);
  const { time, value } = sweep.wholePressure;
  const gapS = longestGap(sweep.wholePressure);
  let longest = { seconds: leastS, read: undefined as number | undefined };
  let from = 0;
  for (let i = 1; i <= value.length; i += 1) {
    const rests =
      i < value.length &&
      value[from]! < highest &&
      value[from]! >= inUnit(fanOffInH2O) &&
      Math.abs(value[i]! - value[from]!) < inUnit(steadyInH2O) &&
      time[i]! - time[i - 1]! <= gapS;
    if (rests) continue;
    const seconds = time[i - 1]! - time[from]!;
    if (seconds > longest.seconds) longest = { seconds, read: median(value.subarray(from, i)) };
    from = i;
  }
  return longest.read;
}
