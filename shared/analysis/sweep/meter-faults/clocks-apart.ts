import { extent } from '../../../numerics/descriptive.ts';
import { longestLag } from '../series/initial-estimates.ts';
import { lastTime, pressureAt, type PressureGrid } from '../series/pressure-grid.ts';
import { type Series, subsample } from '../series/series.ts';

/** Apparent lags that are looked at, seconds, and the step between them. */
const farthestS = 60;
const stepS = 0.25;
/** A manometer that is damped follows later than the flame signal by no more than this, seconds (common practice). */
const mostDampedS = 1;
/** Most readings that are looked at, and fewest: those typed by hand are of one clock, and too few for bins of one pressure. */
const maxReadings = 700;
const minReadings = 120;
/** Bins of pressure, and the least share of readings that a lag must leave with a known pressure. */
const bins = 60;
const leastOverlap = 0.7;
/**
 * Share of the signal's variance that the pressure leaves unexplained: less than the one at some lag, while every usual lag leaves
 * more than the other, shows the clocks. A flame that was lost and lit again is explained by no lag.
 */
const explained = 0.01;
const unexplained = 0.1;
/** Scatters that differ by less than this factor explain the readings alike. */
const alike = 1.3;

/**
 * Seconds by which the flame signal seems to follow the pressure where that is more than detector, amplifier and meters can lag, or
 * where it comes before the pressure: the clocks of the two meters are apart. Undefined where a usual lag explains the readings
 * as well, as in a sweep in one direction, which shows no lag.
 *
 * @param signal  readings while the flame burned
 *
 * By least scatter: at the right lag the signals that belong to one pressure, on the way down and up, lie nearest together.
 */
export function clocksApart(grid: PressureGrid, signal: Series): number | undefined {
  if (signal.time.length < minReadings) return undefined;
  const some = subsample(signal, maxReadings);
  const lags = Array.from({ length: (2 * farthestS) / stepS + 1 }, (_, i) => -farthestS + i * stepS);
  const usual = Math.min(...lags.filter(isUsual).map((lagS) => scatterAt(grid, some, lagS)));
  if (usual < unexplained) return undefined;
  const scatters = lags.map((lagS) => scatterAt(grid, some, lagS));
  const least = Math.min(...scatters);
  if (!(least < explained)) return undefined;
  // A way there and back is much the same at two lags: of those that explain the readings about as well, the shortest.
  const isLeast = (i: number) => !(scatters[i - 1]! < scatters[i]!) && !(scatters[i + 1]! < scatters[i]!);
  return lags
    .filter((_, i) => isLeast(i) && scatters[i]! <= alike * least)
    .sort((a, b) => Math.abs(a) - Math.abs(b))[0];
}

/** Whether a fitted lag, seconds, comes before the pressure by more than a damped manometer explains. */
export const isBeforePressure = (lagS: number): boolean => lagS < -mostDampedS;

const isUsual = (lagS: number): boolean => lagS >= -mostDampedS && lagS <= longestLag;

/** Share of the signal's variance that lies inside bins of pressure, at a trial lag; infinite where too few readings overlap. */
function scatterAt(grid: PressureGrid, { time, value }: Series, lagS: number): number {
  const [low, high] = extent(grid.pressure);
  const width = (high - low) / bins || 1;
  const n = new Float64Array(bins);
  const sum = new Float64Array(bins);
  let [count, total, squares] = [0, 0, 0];
  for (let k = 0; k < time.length; k += 1) {
    const at = time[k]! - lagS;
    if (at < grid.startS || at > lastTime(grid)) continue;
    const bin = Math.min(bins - 1, Math.floor((pressureAt(grid, at) - low) / width));
    n[bin]! += 1;
    sum[bin]! += value[k]!;
    count += 1;
    total += value[k]!;
    squares += value[k]! ** 2;
  }
  if (count < leastOverlap * time.length) return Infinity;
  let between = 0;
  let used = 0;
  for (let bin = 0; bin < bins; bin += 1) {
    if (n[bin] === 0) continue;
    between += sum[bin]! ** 2 / n[bin]!;
    used += 1;
  }
  const whole = (squares - total ** 2 / count) / (count - 1);
  return count - used < used || !(whole > 0) ? Infinity : Math.max(0, squares - between) / (count - used) / whole;
}
