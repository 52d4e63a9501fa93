import { extent, median, quantileSorted } from '../../../numerics/descriptive.ts';
import { resolutionOf } from './meter-noise.ts';
import { pressureAt, type PressureGrid } from './pressure-grid.ts';
import type { Series } from './series.ts';

/** Initial estimates, from which the fit of the curve starts. Signals in the signal's unit, pressures in the pressure's. */
export interface InitialEstimates {
  /** Seconds by which the signal follows the pressure, and between what that lies. */
  lagS: number;
  lagLimits: LagLimits;
  /** Level of the plateau and of the dark. */
  plateau: number;
  dark: number;
  /** Where the signal passes half way down on either side; undefined where it never does. */
  halfLow?: number;
  halfHigh?: number;
  /** Step of the signal meter's last digit. */
  digit: number;
}

/**
 * Longest lag that is considered, seconds: detector, amplifier and meter together lag by 0.3 to 3 s, and some meters average on
 * top.
 */
export const longestLag = 5;
/** Between which lags the signal follows the pressure as shown, seconds; below zero where the manometer is the slower meter. */
export interface LagLimits {
  shortestS: number;
  longestS: number;
}
/** Where nothing else tells. */
export const usualLagLimits: LagLimits = { shortestS: -longestLag, longestS: longestLag };
/** Shorter lags than this no detector has, seconds (common practice). */
export const shortestLagS = 0.3;
/** Step of the search for the lag, seconds: a third of the shortest lag. */
const lagStepS = 0.1;
/** Bins of pressure in which signals of both ways are compared. */
const lagBins = 60;

/**
 * Estimates lag, levels and shoulders. The lag by least scatter: for each candidate the readings are sorted into bins of
 * pressure, and that candidate is taken at which signals of one bin, from turning out and in, lie nearest together.
 *
 * @param limits  between which the lag lies, by the light-offs of the capture
 */
export function initialEstimates(grid: PressureGrid, signal: Series, limits = usualLagLimits): InitialEstimates {
  let best = { lagS: 0, scatter: Infinity };
  for (let lagS = 0; lagS <= limits.longestS + 1e-9; lagS += lagStepS) {
    const scatter = scatterAt(grid, signal, lagS);
    if (scatter < best.scatter) best = { lagS, scatter };
  }
  const { lagS } = best;
  const sorted = Float64Array.from(signal.value).sort();
  const bins = medianByPressure(grid, signal, lagS);
  const levels = bins.map((bin) => bin.level);
  const plateau = Math.max(...levels);
  const lowest = quantileSorted(sorted, 0.01);
  // What never sinks below a quarter of the plateau shows no dark; zero is where a detector's dark should be.
  const dark = lowest < 0.25 * plateau ? lowest : 0;
  const half = (plateau + dark) / 2;
  const top = levels.indexOf(plateau);
  let low = top;
  while (low >= 0 && levels[low]! > half) low -= 1;
  let high = top;
  while (high < bins.length && levels[high]! > half) high += 1;
  return {
    lagS,
    lagLimits: limits,
    plateau,
    dark,
    ...(low >= 0 && low < top && { halfLow: (bins[low]!.pressure + bins[low + 1]!.pressure) / 2 }),
    ...(high < bins.length && high > top && { halfHigh: (bins[high]!.pressure + bins[high - 1]!.pressure) / 2 }),
    digit: resolutionOf(signal.value),
  };
}

/** Sum of squares of the signal about the mean of its bin of pressure, over all bins, at a trial lag. */
function scatterAt(grid: PressureGrid, signal: Series, lagS: number): number {
  const [low, high] = extent(grid.pressure);
  const n = new Float64Array(lagBins);
  const sum = new Float64Array(lagBins);
  const square = new Float64Array(lagBins);
  const width = (high - low) / lagBins || 1;
  for (let k = 0; k < signal.time.length; k += 1) {
    const bin = Math.floor((pressureAt(grid, signal.time[k]! - lagS) - low) / width);
    const place = Math.min(lagBins - 1, Math.max(0, bin));
    const value = signal.value[k]!;
    n[place]! += 1;
    sum[place]! += value;
    square[place]! += value * value;
  }
  let scatter = 0;
  for (let bin = 0; bin < lagBins; bin += 1) if (n[bin]! > 0) scatter += square[bin]! - sum[bin]! ** 2 / n[bin]!;
  return scatter;
}

/** Median signal in bins of pressure, lag removed; bins without readings are left out. */
function medianByPressure(grid: PressureGrid, signal: Series, lagS: number): { pressure: number; level: number }[] {
  const [low, high] = extent(grid.pressure);
  // Four readings a bin on average: a median of fewer is any of them.
  const count = Math.max(4, Math.min(40, Math.floor(signal.time.length / 4)));
  const width = (high - low) / count || 1;
  const values: number[][] = Array.from({ length: count }, () => []);
  for (let k = 0; k < signal.time.length; k += 1) {
    const bin = Math.floor((pressureAt(grid, signal.time[k]! - lagS) - low) / width);
    values[Math.min(count - 1, Math.max(0, bin))]!.push(signal.value[k]!);
  }
  return values.flatMap((list, bin) =>
    list.length === 0 ? [] : [{ pressure: low + (bin + 0.5) * width, level: median(Float64Array.from(list)) }],
  );
}
