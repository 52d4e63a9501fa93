import { curveAt, cutAtClip } from './model/curve-model.ts';
import type { FitData } from './fit-data.ts';
import { firstOrderLag, lagGains } from './lag.ts';
import { createShoulders } from './model/shoulders.ts';
import { outagesOf, slopesWithOutages, type UninterruptedSignal, withOutages } from './model/outages.ts';
import type { Layout } from './model/shape.ts';

/** The signal at each time of the input for given parameters, in the signal's unit, and its derivatives. */
export interface Predictor {
  /** Writes one number for each time. */
  predict: (x: Float64Array, into: Float64Array) => void;
  /** Derivative of each predicted signal by each parameter: times x `layout.size`, row by row. */
  slopes: (x: Float64Array, into: Float64Array) => void;
}

/**
 * The signal the meter should have shown at each time of the input: the steady curve along the pressure, dark while the flame
 * was out, behind a dead time and a first-order lag: detector, amplifier and meter together.
 *
 * The parameter `lag` is dead time plus first-order lag. The dead time may come out slightly negative, when the manometer
 * itself is slower than the flame signal. The lag is exact for a pressure that is linear between grid points.
 *
 * @param shareAt  what the pulses of a shutter leave of it
 * @param layout   places of the parameters
 */
export function createPredictor({ input, shareAt }: Pick<FitData, 'input' | 'shareAt'>, layout: Layout): Predictor {
  const { grid, scale, times } = input;
  const shares = shareAt && times.map(shareAt);
  const { startS, stepS } = grid;
  const n = grid.pressure.length;
  const size = layout.size;
  /** The layout of what the detector sees: unclipped where the amplifier clips behind the lag. */
  const seen = layout.clipsBehindLag ? { ...layout, clip: -1 } : layout;
  const steady = new Float64Array(n);
  const lagged = new Float64Array(n);
  const shoulders = createShoulders(n);
  let steadySlopes: Float64Array | undefined;
  let laggedSlopes: Float64Array | undefined;

  /** What a flame that always burns gives behind the first-order lag, on the grid. */
  const lagOnGrid = (lag: number) => {
    const { output, before, now } = lagGains(lag, stepS);
    lagged[0] = steady[0]!;
    for (let i = 1; i < n; i += 1) lagged[i] = output * lagged[i - 1]! + before * steady[i - 1]! + now * steady[i]!;
  };
  const placeAt = (timeS: number) => {
    const place = Math.min(n - 1, Math.max(0, (timeS - startS) / stepS));
    const i = Math.min(n - 2, Math.floor(place));
    return { i, part: place - i, moves: place > 0 && place < n - 1 };
  };
  const levelAt = (timeS: number) => {
    const { i, part } = placeAt(timeS);
    return lagged[i]! + part * (lagged[i + 1]! - lagged[i]!);
  };
  /** Signal per second just then; 0 beyond the grid. */
  const rateAt = (timeS: number) => {
    const { i, moves } = placeAt(timeS);
    return moves ? (lagged[i + 1]! - lagged[i]!) / stepS : 0;
  };

  return {
    predict(x, into) {
      curveAt(x, seen, scale, grid.pressure, steady, undefined, shoulders);
      const lag = firstOrderLag(x, layout, stepS);
      lagOnGrid(lag);
      const outages = outagesOf(x, layout, lag, levelAt);
      const deadS = x[layout.lag]! - lag;
      for (let k = 0; k < times.length; k += 1)
        into[k] = (shares?.[k] ?? 1) * withOutages(outages, times[k]! - deadS, lag, levelAt);
      if (layout.clipsBehindLag) cutAtClip(x, layout, into, undefined, times.length);
    },

    slopes(x, into) {
      const raw = (steadySlopes ??= new Float64Array(n * size));
      const behind = (laggedSlopes ??= new Float64Array(n * size));
      curveAt(x, seen, scale, grid.pressure, steady, raw, shoulders);
      const lag = firstOrderLag(x, layout, stepS);
      lagOnGrid(lag);
      const { output, before, now, outputSlope, beforeSlope, nowSlope } = lagGains(lag, stepS);
      const { lagRoot } = layout;
      behind.set(raw.subarray(0, size));
      for (let i = 1; i < n; i += 1) {
        const row = i * size;
        for (let j = 0; j < size; j += 1)
          behind[row + j] = output * behind[row - size + j]! + before * raw[row - size + j]! + now * raw[row + j]!;
        // By the first-order lag itself; by its root only at the very end.
        behind[row + lagRoot]! += outputSlope * lagged[i - 1]! + beforeSlope * steady[i - 1]! + nowSlope * steady[i]!;
      }
      const slopesAt = (timeS: number, to: Float64Array, at: number) => {
        const { i, part } = placeAt(timeS);
        const row = i * size;
        for (let j = 0; j < size; j += 1)
          to[at + j] = behind[row + j]! + part * (behind[row + size + j]! - behind[row + j]!);
      };
      const uninterrupted: UninterruptedSignal = { levelAt, rateAt, slopesAt };
      const outages = outagesOf(x, layout, lag, levelAt, uninterrupted);
      const deadS = x[layout.lag]! - lag;
      const byRoot = 2 * x[lagRoot]!;
      for (let k = 0; k < times.length; k += 1) {
        const row = k * size;
        const rate = slopesWithOutages(outages, times[k]! - deadS, lag, layout, uninterrupted, into, row);
        // A longer lag shows an earlier signal; more of it first-order leaves less dead time.
        into[row + layout.lag] = -rate;
        into[row + lagRoot] = byRoot * (into[row + lagRoot]! + rate);
        if (shares) for (let j = 0; j < size; j += 1) into[row + j]! *= shares[k]!;
      }
      if (!layout.clipsBehindLag) return;
      const uncut = times.map((t, k) => (shares?.[k] ?? 1) * withOutages(outages, t - deadS, lag, levelAt));
      cutAtClip(x, layout, uncut, into, times.length);
    },
  };
}
