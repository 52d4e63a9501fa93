import { readingNoise } from './meter-noise.ts';
import type { Series } from './series.ts';
import { longestGap, typicalStep } from './series.ts';

/** Pilot pressure on an even grid of times, so that a lag can be simulated on it. */
export interface PressureGrid {
  /** Time of the first point and step between points, seconds. */
  startS: number;
  stepS: number;
  pressure: Float64Array;
  /** 1 where readings were near enough to know the pressure, else 0. */
  known: Uint8Array;
}

/** Most points of the grid: bounds the work; 3000 points are 60 ms in a sweep of three minutes. */
const finePoints = 3000;

/** Time of the last point, seconds. */
export const lastTime = (grid: PressureGrid): number => grid.startS + (grid.pressure.length - 1) * grid.stepS;

/**
 * Interpolates and, where it rests or moves evenly, smooths the manometer's readings (a symmetric triangle, which shifts
 * nothing in time): its own noise would otherwise act as noise of the signal on a steep shoulder, and look like movements of
 * the pressure that show the lag of the signal.
 *
 * @param signalStepS  seconds between readings of the signal
 * @param maxPoints    most points of the grid
 */
export function pressureGrid(pressure: Series, signalStepS: number, maxPoints = finePoints): PressureGrid {
  const { time, value } = pressure;
  const n = time.length;
  const startS = time[0]!;
  const span = time[n - 1]! - startS;
  const readingStepS = typicalStep(pressure);
  const stepS = Math.max(Math.min(readingStepS, signalStepS) / 2, span / maxPoints, 0.005);
  const count = Math.max(2, Math.floor(span / stepS) + 1);
  const raw = new Float64Array(count);
  const known = new Uint8Array(count);
  const gapS = longestGap(pressure);
  let at = 0;
  for (let i = 0; i < count; i += 1) {
    const t = startS + i * stepS;
    while (at < n - 2 && time[at + 1]! <= t) at += 1;
    const t0 = time[at]!;
    const t1 = time[at + 1]!;
    const part = t1 > t0 ? Math.min(1, Math.max(0, (t - t0) / (t1 - t0))) : 0;
    raw[i] = value[at]! + part * (value[at + 1]! - value[at]!);
    known[i] = t1 - t0 <= gapS ? 1 : 0;
  }
  const noise = readingNoise(value);
  const { smooth, widthS } = smoothed(raw, pressure, { startS, stepS }, Math.max(0.25, readingStepS), noise);
  // Where the readings leave the smoothed line by more than three deviations of their noise the pressure itself has turned: a
  // step of the regulator must not be smeared, or the curve comes out rounder than it is and the window too narrow. Beside a step one
  // deviation is enough.
  const side = Math.max(1, Math.round(widthS / stepS));
  const movesAt = (i: number) =>
    Math.abs(smooth[Math.min(count - 1, i + side)]! - smooth[Math.max(0, i - side)]!) > 3 * noise;
  const followed = smooth.map((mean, i) => {
    const off = raw[i]! - mean;
    const allowed = movesAt(i) ? noise : 3 * noise;
    return mean + off * Math.min(1, Math.max(0, Math.abs(off) / allowed - 1));
  });
  return { startS, stepS, pressure: followed, known };
}

/** How often the shortest smoothing is doubled at most: 16 s on each side where readings come fast enough. */
const maxDoublings = 6;

/**
 * The grid's pressures smoothed by a triangle as wide as the readings bear: each reading is predicted from the others, and the
 * width that predicts best is taken. A reading that jumps counts no more than three deviations: steps are followed anyway.
 * Given back with the width, half of the triangle's foot in seconds.
 * Source: Stone 1974, J. Royal Stat. Soc. B 36, 111 (leave-one-out cross-validation).
 */
function smoothed(
  raw: Float64Array,
  { time, value }: Series,
  { startS, stepS }: { startS: number; stepS: number },
  shortestS: number,
  noise: number,
): { smooth: Float64Array; widthS: number } {
  const readingStepS = (time[time.length - 1]! - time[0]!) / (time.length - 1);
  const places = new Int32Array(time.length);
  for (let i = 0; i < time.length; i += 1)
    places[i] = Math.min(raw.length - 1, Math.max(0, Math.round((time[i]! - startS) / stepS)));
  let best = { smooth: raw, widthS: shortestS, error: Infinity };
  for (let k = 0; k <= maxDoublings; k += 1) {
    const widthS = shortestS * 2 ** k;
    const half = Math.max(1, Math.round(widthS / stepS));
    const smooth = runningMean(runningMean(raw, half), half);
    // The weight of a reading in its own smoothed value: the top of the triangle.
    const own = Math.min(0.9, readingStepS / (2 * widthS));
    let error = 0;
    for (let i = 0; i < value.length; i += 1)
      error += Math.min(9, ((value[i]! - smooth[places[i]!]!) / (1 - own) / noise) ** 2);
    if (error < best.error) best = { smooth, widthS, error };
  }
  return best;
}

/**
 * Running mean over 2 half + 1 points; near the first and last over an equal number on both sides, so that a ramp stays a ramp.
 */
function runningMean(values: Float64Array, half: number): Float64Array {
  const n = values.length;
  const sums = new Float64Array(n + 1);
  for (let i = 0; i < n; i += 1) sums[i + 1] = sums[i]! + values[i]!;
  return values.map((_, i) => {
    const side = Math.min(half, i, n - 1 - i);
    return (sums[i + side + 1]! - sums[i - side]!) / (2 * side + 1);
  });
}

/** Pressure at a time in seconds, by interpolation on the grid; beyond it the first or last value. */
export function pressureAt(grid: PressureGrid, timeS: number): number {
  const place = Math.min(grid.pressure.length - 1, Math.max(0, (timeS - grid.startS) / grid.stepS));
  const i = Math.min(grid.pressure.length - 2, Math.floor(place));
  return grid.pressure[i]! + (place - i) * (grid.pressure[i + 1]! - grid.pressure[i]!);
}
