import { convertPressure } from '../../model/units.ts';
import { median } from '../../numerics/descriptive.ts';
import type { Study } from '../study.ts';
import { longestGap } from '../sweep/series/series.ts';

/** A difference that neither a manometer's zero nor another speed of the fan explains, inH2O and as a share of what was entered. */
const leastInH2O = 0.1;
/** A last digit of the manometer may be missing of it. */
const slackInH2O = 0.005;
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

/**
 * The lowest pressure at which the manometer rested above the entered fan-only pressure whenever gas was shut, in the sweep's unit. Undefined
 * where it came near to what was entered at least once: a fan that runs faster in the purge shows more then.
 */
export function shutRead({ setup, settings, sweep, tracked }: Study): number | undefined {
  if (!setup.fanOnlyPressure) return undefined;
  const { time, value } = sweep.wholePressure;
  const rested = tracked.spans
    .filter(({ gas, from_s, to_s }) => gas === 'shut' && to_s - from_s >= leastS)
    .map(({ from_s, to_s }) => value.filter((_, i) => time[i]! >= from_s && time[i]! <= to_s))
    .filter(({ length }) => length > 0)
    .map((values) => median(values));
  if (rested.length === 0) return undefined;
  const lowest = Math.min(...rested);
  const above = convertPressure(lowest - settings.fanOnly, sweep.pressureUnit, 'inH2O');
  const least = Math.max(leastInH2O, leastShare * convertPressure(settings.fanOnly, sweep.pressureUnit, 'inH2O'));
  return above >= least - slackInH2O ? lowest : undefined;
}
