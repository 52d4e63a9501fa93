import { convertPressure } from '../../model/units.ts';
import { median, quantileSorted } from '../../numerics/descriptive.ts';
import type { Study } from '../study.ts';

/** A difference that neither a manometer's zero nor another speed of the fan explains, inH2O and as a share of what was entered. */
const leastInH2O = 0.1;
const leastShare = 0.25;
/** A manometer that shows less than this, inH2O, may stand with the fan off. */
const fanOffInH2O = 0.05;
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
  const low: number[] = [];
  let seconds = 0;
  for (let i = 1; i < value.length; i += 1) {
    if (value[i]! >= highest || value[i - 1]! >= highest || value[i]! < inUnit(fanOffInH2O)) continue;
    low.push(value[i]!);
    seconds += Math.min(2, time[i]! - time[i - 1]!);
  }
  const sorted = Float64Array.from(low).sort();
  if (seconds < leastS) return undefined;
  const isSteady = quantileSorted(sorted, 0.75) - quantileSorted(sorted, 0.25) < inUnit(steadyInH2O);
  return isSteady ? median(sorted) : undefined;
}
