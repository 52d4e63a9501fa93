import { curveAt, type TestedScale } from './curve-model.ts';
import { firstOrderLag, lagGains } from './lag.ts';
import { outagesOf, slopesWithOutages, type UninterruptedSignal, withOutages } from './outages.ts';
import type { Layout } from './shape.ts';
import type { PressureGrid } from '../sweep/pressure-grid.ts';

/** What a prediction needs beside the parameters. */
export interface PredictionInput {
  grid: PressureGrid;
  scale: TestedScale;
  /** Times of the signal readings, seconds. */
  times: Float64Array;
}

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
export function createPredictor(scene: PredictionInput, layout: Layout): Predictor {
  const { grid, scale, times } = scene;
  const { startS, stepS } = grid;
  const n = grid.pressure.length;
  const size = layout.size;
  const steady = new Float64Array(n);
  const seen = new Float64Array(n);
  let steadySlopes: Float64Array | undefined;
  let seenSlopes: Float64Array | undefined;

  /** What a flame that always burns gives behind the first-order lag, on the grid. */
  const laggedOnGrid = (lag: number) => {
    const { keep, before, now } = lagGains(lag, stepS);
    seen[0] = steady[0]!;
    for (let i = 1; i < n; i += 1) seen[i] = keep * seen[i - 1]! + before * steady[i - 1]! + now * steady[i]!;
  };
  const placeAt = (timeS: number) => {
    const place = Math.min(n - 1, Math.max(0, (timeS - startS) / stepS));
    const i = Math.min(n - 2, Math.floor(place));
    return { i, part: place - i, moves: place > 0 && place < n - 1 };
  };
  const levelAt = (timeS: number) => {
    const { i, part } = placeAt(timeS);
    return seen[i]! + part * (seen[i + 1]! - seen[i]!);
  };
  /** Signal per second just then; 0 beyond the grid. */
  const rateAt = (timeS: number) => {
    const { i, moves } = placeAt(timeS);
    return moves ? (seen[i + 1]! - seen[i]!) / stepS : 0;
  };

  return {
    predict(x, into) {
      curveAt(x, layout, scale, grid.pressure, steady);
      const lag = firstOrderLag(x, layout, stepS);
      laggedOnGrid(lag);
      const outages = outagesOf(x, layout, lag, levelAt);
      const deadS = x[layout.lag]! - lag;
      for (let k = 0; k < times.length; k += 1) into[k] = withOutages(outages, times[k]! - deadS, lag, levelAt);
    },

    slopes(x, into) {
      const raw = (steadySlopes ??= new Float64Array(n * size));
      const lagged = (seenSlopes ??= new Float64Array(n * size));
      curveAt(x, layout, scale, grid.pressure, steady, raw);
      const lag = firstOrderLag(x, layout, stepS);
      laggedOnGrid(lag);
      const { keep, before, now, keepSlope, beforeSlope, nowSlope } = lagGains(lag, stepS);
      const { lagRoot } = layout;
      lagged.set(raw.subarray(0, size));
      for (let i = 1; i < n; i += 1) {
        const row = i * size;
        for (let j = 0; j < size; j += 1)
          lagged[row + j] = keep * lagged[row - size + j]! + before * raw[row - size + j]! + now * raw[row + j]!;
        // By the first-order lag itself, for now.
        lagged[row + lagRoot]! += keepSlope * seen[i - 1]! + beforeSlope * steady[i - 1]! + nowSlope * steady[i]!;
      }
      const slopesAt = (timeS: number, to: Float64Array, at: number) => {
        const { i, part } = placeAt(timeS);
        const row = i * size;
        for (let j = 0; j < size; j += 1)
          to[at + j] = lagged[row + j]! + part * (lagged[row + size + j]! - lagged[row + j]!);
      };
      const burning: UninterruptedSignal = { levelAt, rateAt, slopesAt };
      const outages = outagesOf(x, layout, lag, levelAt, burning);
      const deadS = x[layout.lag]! - lag;
      const root = 2 * x[lagRoot]!;
      for (let k = 0; k < times.length; k += 1) {
        const row = k * size;
        const rate = slopesWithOutages(outages, times[k]! - deadS, lag, layout, burning, into, row);
        // A longer delay shows an earlier signal; more of it first-order leaves less dead time.
        into[row + layout.lag] = -rate;
        into[row + lagRoot] = root * (into[row + lagRoot]! + rate);
      }
    },
  };
}
