import { type PressureGrid, pressureAt } from './pressure-grid.ts';
import { resolutionOf } from './meter-noise.ts';
import { median, quantileSorted } from '../../numerics/descriptive.ts';
import type { Series } from './series.ts';

/** A rough picture of the sweep, from which the fit starts. Signals in the signal's unit, pressures in the pressure's. */
export interface InitialEstimates {
  lagS: number;
  /** Level of the plateau and of the dark. */
  plateau: number;
  dark: number;
  /** Where the signal passes half way down on either side; undefined where it never does. */
  halfLow?: number;
  halfHigh?: number;
  tested: [number, number];
  /** What the signal meter's last digit is worth. */
  digit: number;
}

/** Longest delay looked for, seconds. */
export const longestLag = 5;

/**
 * Delay by the least scatter: for each trial delay the readings are laid in bins of pressure, and the delay is taken at
 * which signals of one bin, from down and up, lie nearest together.
 */
export function initialEstimates(grid: PressureGrid, signal: Series): InitialEstimates {
  let best = { lagS: 0, scatter: Infinity };
  for (let lagS = 0; lagS <= longestLag + 1e-9; lagS += 0.1) {
    const scatter = scatterAt(grid, signal, lagS);
    if (scatter < best.scatter) best = { lagS, scatter };
  }
  const { lagS } = best;
  const sorted = Float64Array.from(signal.value).sort();
  const bins = binned(grid, signal, lagS);
  const levels = bins.map((bin) => bin.level);
  const plateau = Math.max(...levels);
  const lowest = quantileSorted(sorted, 0.01);
  const dark = lowest < 0.25 * plateau ? lowest : 0;
  const half = (plateau + dark) / 2;
  const top = levels.indexOf(plateau);
  let low = top;
  while (low >= 0 && levels[low]! > half) low -= 1;
  let high = top;
  while (high < bins.length && levels[high]! > half) high += 1;
  return {
    lagS,
    plateau,
    dark,
    ...(low >= 0 && low < top && { halfLow: (bins[low]!.pressure + bins[low + 1]!.pressure) / 2 }),
    ...(high < bins.length && high > top && { halfHigh: (bins[high]!.pressure + bins[high - 1]!.pressure) / 2 }),
    tested: [bins[0]!.pressure, bins.at(-1)!.pressure],
    digit: resolutionOf(signal.value),
  };
}

function scatterAt(grid: PressureGrid, signal: Series, lagS: number): number {
  const count = 60;
  const [low, high] = reach(grid);
  const n = new Float64Array(count);
  const sum = new Float64Array(count);
  const square = new Float64Array(count);
  const wide = (high - low) / count || 1;
  for (let k = 0; k < signal.time.length; k += 1) {
    const bin = Math.min(count - 1, Math.max(0, Math.floor((pressureAt(grid, signal.time[k]! - lagS) - low) / wide)));
    const value = signal.value[k]!;
    n[bin]! += 1;
    sum[bin]! += value;
    square[bin]! += value * value;
  }
  let scatter = 0;
  for (let bin = 0; bin < count; bin += 1) if (n[bin]! > 0) scatter += square[bin]! - sum[bin]! ** 2 / n[bin]!;
  return scatter;
}

function reach(grid: PressureGrid): [number, number] {
  let low = Infinity;
  let high = -Infinity;
  for (const p of grid.pressure) {
    if (p < low) low = p;
    if (p > high) high = p;
  }
  return [low, high];
}

/** Median signal in bins of pressure, lag removed; bins without readings are left out. */
function binned(grid: PressureGrid, signal: Series, lagS: number): { pressure: number; level: number }[] {
  const [low, high] = reach(grid);
  const count = Math.max(4, Math.min(40, Math.floor(signal.time.length / 4)));
  const wide = (high - low) / count || 1;
  const values: number[][] = Array.from({ length: count }, () => []);
  for (let k = 0; k < signal.time.length; k += 1) {
    const bin = Math.floor((pressureAt(grid, signal.time[k]! - lagS) - low) / wide);
    values[Math.min(count - 1, Math.max(0, bin))]!.push(signal.value[k]!);
  }
  return values.flatMap((list, bin) =>
    list.length === 0 ? [] : [{ pressure: low + (bin + 0.5) * wide, level: median(Float64Array.from(list)) }],
  );
}
