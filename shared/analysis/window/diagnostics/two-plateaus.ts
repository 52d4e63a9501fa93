import { median } from '../../../numerics/descriptive.ts';
import { robustDeviation } from '../../../numerics/robust.ts';
import type { Pairs } from '../../sweep/series/pairs.ts';
import { slicesOf } from '../../sweep/series/slices.ts';

/** A run of pressures over which the signal is level. */
export interface Level {
  from: number;
  to: number;
  signal: number;
}

/** Two levels of the signal, one on each side of a step, the higher one first. */
export interface TwoPlateaus {
  higher: Level;
  lower: Level;
}

/** The plateau on which a pressure stands; undefined where it stands on the step between them or beyond both. */
export function plateauAt({ higher, lower }: TwoPlateaus, pressure: number): Level | undefined {
  return [higher, lower].find(({ from, to }) => pressure >= from && pressure <= to);
}

/** Slices of the tested pressures, and how many neighbors a plateau spans at least: a tenth of what was tested. */
const slices = 32;
const minSlices = 3;
/** A median of fewer readings is any of them. */
const minReadings = 3;
/** A plateau is level to this share of the highest signal; a shoulder or a sag falls by more over a tenth of the pressures. */
const flatShare = 0.025;
/** Plateaus differ by more than this share of the highest signal, and the lower one is no dark or spark. */
const minStep = 0.1;
const leastShare = 0.4;
/** From one to the other the signal goes within so many slices: a slower way is a sag. */
const maxStepSlices = 4;

/**
 * Looks for a second plateau: two stretches of pressure over which the signal is level, apart by more than a tenth and with a step
 * between them. A detector that sees two parts of the flame, or a flame that changes its shape, shows that. Undefined where there
 * is only one.
 *
 * @param pairs   readings while the flame burned, lag removed
 * @param tested  lowest and highest tested pressure
 */
export function findTwoPlateaus(
  { pressure, signal }: Pick<Pairs, 'pressure' | 'signal'>,
  tested: readonly [number, number],
): TwoPlateaus | undefined {
  const width = (tested[1] - tested[0]) / slices;
  const bySlice = slicesOf(pressure, signal, tested, slices).map((values) => Float64Array.from(values));
  const levels = bySlice.map((values) => (values.length < minReadings ? Number.NaN : median(values)));
  const top = levels.reduce((most, level) => (level > most ? level : most), 0);
  // The median of n readings scatters by some 1.25 s / sqrt(n); three of that are no slope.
  const chance = bySlice.map((values) =>
    values.length < minReadings ? 0 : (3 * 1.25 * robustDeviation(values)) / Math.sqrt(values.length),
  );
  const runs: { first: number; last: number; signal: number }[] = [];
  for (let first = 0; first < slices; first += 1) {
    let last = first;
    let [least, most] = [levels[first]!, levels[first]!];
    if (!(least > leastShare * top)) continue;
    while (last + 1 < slices) {
      const next = levels[last + 1]!;
      const within = Math.max(flatShare * top, Math.min(chance[last + 1]!, 2 * flatShare * top));
      if (!(Math.max(most, next) - Math.min(least, next) <= within)) break;
      last += 1;
      [least, most] = [Math.min(least, next), Math.max(most, next)];
    }
    if (last - first + 1 < minSlices) continue;
    runs.push({ first, last, signal: median(Float64Array.from(levels.slice(first, last + 1))) });
    first = last;
  }
  const asLevel = ({ first, last, signal: level }: (typeof runs)[number]): Level => ({
    from: tested[0] + first * width,
    to: tested[0] + (last + 1) * width,
    signal: level,
  });
  for (let i = 1; i < runs.length; i += 1) {
    const [a, b] = [runs[i - 1]!, runs[i]!];
    if (b.first - a.last > maxStepSlices || Math.abs(a.signal - b.signal) < minStep * top) continue;
    return a.signal > b.signal ? { higher: asLevel(a), lower: asLevel(b) } : { higher: asLevel(b), lower: asLevel(a) };
  }
  return undefined;
}
