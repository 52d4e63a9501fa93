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
export const firstOrderLag = (x: Float64Array, layout: Layout) => x[layout.slowness]! ** 2;

/**
 * The signal the meter should have shown at each of the scene's times: the steady curve along the pressure, dark while
 * the flame was out, behind a dead time and a first-order lag: detector, amplifier and meter together.
 *
 * The total delay `lag` is dead time plus first-order lag. The dead time may come out slightly negative, when the
 * manometer itself is slower than the flame signal. The lag is exact for a pressure that is linear between grid points.
 */
export function createPredictor(scene: Scene, layout: Layout) {
  const { grid, scale, times } = scene;
  const n = grid.pressure.length;
  const steady = new Float64Array(n);
  const seen = new Float64Array(n);
  const flameOuts = layout.flameOut < 0 ? 0 : (layout.size - layout.flameOut) / 2;

  return (x: Float64Array, into: Float64Array): void => {
    curveAt(x, layout, scale, grid.pressure, steady);
    const dark = layout.dark < 0 ? 0 : x[layout.dark]!;
    for (let k = 0; k < flameOuts; k += 1)
      darken(steady, dark, grid, x[layout.flameOut + 2 * k]!, x[layout.flameOut + 2 * k + 1]!);

    const lag = firstOrderLag(x, layout);
    const ratio = lag / grid.stepS;
    const keep = ratio > 1e-9 ? exp(-1 / ratio) : 0;
    const now = 1 - ratio * (1 - keep);
    const before = 1 - keep - now;
    let state = steady[0]!;
    seen[0] = state;
    for (let i = 1; i < n; i += 1) {
      state = keep * state + before * steady[i - 1]! + now * steady[i]!;
      seen[i] = state;
    }
    const dead = x[layout.lag]! - lag;
    for (let k = 0; k < times.length; k += 1) {
      const place = (times[k]! - dead - grid.startS) / grid.stepS;
      if (place <= 0) into[k] = seen[0]!;
      else if (place >= n - 1) into[k] = seen[n - 1]!;
      else {
        const i = Math.floor(place);
        into[k] = seen[i]! + (place - i) * (seen[i + 1]! - seen[i]!);
      }
    }
  };
}

/** Puts the curve to dark between two times; a grid point half inside is half dark, so that the times can be fitted. */
function darken(steady: Float64Array, dark: number, grid: PressureGrid, from: number, to: number): void {
  const first = Math.max(0, Math.floor((from - grid.startS) / grid.stepS));
  const last = Math.min(steady.length - 1, Math.ceil((to - grid.startS) / grid.stepS));
  for (let i = first; i <= last; i += 1) {
    const at = grid.startS + (i - 0.5) * grid.stepS;
    const inside = Math.min(to, at + grid.stepS) - Math.max(from, at);
    const part = Math.min(1, Math.max(0, inside / grid.stepS));
    steady[i] = steady[i]! + part * (dark - steady[i]!);
  }
}
