import { exp } from '../model/elementary.ts';
import { curveAt, type Layout, type TestedScale } from './curve-model.ts';
import type { PressureGrid } from './pressure-grid.ts';

/** What a prediction needs beside the parameters. */
export interface Scene {
  grid: PressureGrid;
  scale: TestedScale;
  /** Times of the signal readings, seconds. */
  times: Float64Array;
}

/** Seconds of first-order lag: the parameter is its square root, so that it cannot be negative. */
const firstOrderLag = (x: Float64Array, layout: Layout) => x[layout.slowness]! ** 2;

/** The signal at each of a scene's times for given parameters, and its derivatives. */
export interface Predictor {
  predict: (x: Float64Array, into: Float64Array) => void;
  /** Derivative of each predicted signal by each parameter: times x `layout.size`, row by row. */
  slopes: (x: Float64Array, into: Float64Array) => void;
}

/**
 * The signal the meter should have shown at each of the scene's times: the steady curve along the pressure, dark while
 * the flame was out, behind a dead time and a first-order lag: detector, amplifier and meter together.
 *
 * The total delay `lag` is dead time plus first-order lag. The dead time may come out slightly negative, when the
 * manometer itself is slower than the flame signal. The lag is exact for a pressure that is linear between grid points.
 */
export function createPredictor(scene: Scene, layout: Layout): Predictor {
  const { grid, scale, times } = scene;
  const n = grid.pressure.length;
  const size = layout.size;
  const steady = new Float64Array(n);
  const seen = new Float64Array(n);
  let steadySlopes: Float64Array | undefined;
  let seenSlopes: Float64Array | undefined;

  const darkened = (x: Float64Array, slopes?: Float64Array) => {
    curveAt(x, layout, scale, grid.pressure, steady, slopes);
    if (layout.flameOut < 0) return;
    for (let at = layout.flameOut; at + 1 < size; at += 2) darken(x, layout, grid, at, steady, slopes);
  };
  /** Grid place of each reading, counted in steps behind the dead time. */
  const placeOf = (x: Float64Array, k: number) =>
    (times[k]! - (x[layout.lag]! - firstOrderLag(x, layout)) - grid.startS) / grid.stepS;

  return {
    predict(x, into) {
      darkened(x);
      const { keep, before, now } = lagGains(firstOrderLag(x, layout), grid.stepS);
      seen[0] = steady[0]!;
      for (let i = 1; i < n; i += 1) seen[i] = keep * seen[i - 1]! + before * steady[i - 1]! + now * steady[i]!;
      for (let k = 0; k < times.length; k += 1) {
        const place = placeOf(x, k);
        if (place <= 0) into[k] = seen[0]!;
        else if (place >= n - 1) into[k] = seen[n - 1]!;
        else {
          const i = Math.floor(place);
          into[k] = seen[i]! + (place - i) * (seen[i + 1]! - seen[i]!);
        }
      }
    },

    slopes(x, into) {
      const raw = (steadySlopes ??= new Float64Array(n * size));
      const lagged = (seenSlopes ??= new Float64Array(n * size));
      darkened(x, raw);
      const gains = lagGains(firstOrderLag(x, layout), grid.stepS);
      const { keep, before, now } = gains;
      const { slowness } = layout;
      seen[0] = steady[0]!;
      lagged.set(raw.subarray(0, size));
      for (let i = 1; i < n; i += 1) {
        const row = i * size;
        for (let j = 0; j < size; j += 1)
          lagged[row + j] = keep * lagged[row - size + j]! + before * raw[row - size + j]! + now * raw[row + j]!;
        // By the first-order lag itself.
        lagged[row + slowness]! +=
          gains.keepSlope * seen[i - 1]! + gains.beforeSlope * steady[i - 1]! + gains.nowSlope * steady[i]!;
        seen[i] = keep * seen[i - 1]! + before * steady[i - 1]! + now * steady[i]!;
      }
      const root = 2 * x[slowness]!;
      for (let k = 0; k < times.length; k += 1) {
        const place = Math.min(n - 1, Math.max(0, placeOf(x, k)));
        const i = Math.min(n - 2, Math.floor(place));
        const part = place - i;
        const row = i * size;
        for (let j = 0; j < size; j += 1)
          into[k * size + j] = lagged[row + j]! + part * (lagged[row + size + j]! - lagged[row + j]!);
        const rate = part > 0 || i > 0 ? (seen[i + 1]! - seen[i]!) / grid.stepS : 0;
        // A longer delay shows an earlier signal; more of it first-order leaves less dead time.
        into[k * size + layout.lag] = place < n - 1 ? -rate : 0;
        into[k * size + slowness] = root * (into[k * size + slowness]! + (place < n - 1 ? rate : 0));
      }
    },
  };
}

/** Gains of a first-order lag over one step for an input that is linear in between, and their derivatives by the lag. */
function lagGains(lag: number, stepS: number) {
  const ratio = lag / stepS;
  const keep = ratio > 1e-9 ? exp(-1 / ratio) : 0;
  const now = 1 - ratio * (1 - keep);
  const keepSlope = keep > 0 ? keep / (ratio * ratio * stepS) : 0;
  const nowSlope = ratio * keepSlope - (1 - keep) / stepS;
  return { keep, now, before: 1 - keep - now, keepSlope, nowSlope, beforeSlope: -keepSlope - nowSlope };
}

/**
 * Puts the curve to dark between the two times at `at`; a grid point half inside is half dark, so that the times can be
 * fitted. The derivatives, when given, go along.
 */
function darken(
  x: Float64Array,
  layout: Layout,
  grid: PressureGrid,
  at: number,
  steady: Float64Array,
  slopes: Float64Array | undefined,
): void {
  const { size } = layout;
  const dark = layout.dark < 0 ? 0 : x[layout.dark]!;
  const [from, to] = [x[at]!, x[at + 1]!];
  const first = Math.max(0, Math.floor((from - grid.startS) / grid.stepS));
  const last = Math.min(steady.length - 1, Math.ceil((to - grid.startS) / grid.stepS));
  for (let i = first; i <= last; i += 1) {
    const start = grid.startS + (i - 0.5) * grid.stepS;
    const end = start + grid.stepS;
    const inside = Math.min(to, end) - Math.max(from, start);
    const part = Math.min(1, Math.max(0, inside / grid.stepS));
    const fall = dark - steady[i]!;
    steady[i]! += part * fall;
    if (!slopes || part === 0) continue;
    const row = i * size;
    for (let j = 0; j < size; j += 1) slopes[row + j]! *= 1 - part;
    if (layout.dark >= 0) slopes[row + layout.dark]! += part;
    if (from > start && from < end) slopes[row + at]! -= fall / grid.stepS;
    if (to > start && to < end) slopes[row + at + 1]! += fall / grid.stepS;
  }
}
