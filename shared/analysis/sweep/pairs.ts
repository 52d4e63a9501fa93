import { pressureAt, type PressureGrid } from './pressure-grid.ts';
import { extent, median } from '../../numerics/descriptive.ts';
import type { Series } from './series.ts';

/** Readings laid together, lag removed; equal lengths. */
export interface Pairs {
  elapsedS: Float64Array;
  pressure: Float64Array;
  signal: Float64Array;
  /** +1 turning in (pressure rises), -1 turning out, 0 at rest. */
  direction: Float64Array;
}

/** 1 for readings whose pressure is known: not inside a gap of the manometer, nor before or after it spoke. */
export function whilePressureKnown(grid: PressureGrid, times: Float64Array): Uint8Array {
  const last = grid.pressure.length - 1;
  return Uint8Array.from(times, (t) => {
    const place = (t - grid.startS) / grid.stepS;
    // Half a second over the ends: two meters never begin at the same moment.
    if (place < -0.5 / grid.stepS || place > last + 0.5 / grid.stepS) return 0;
    return grid.known[Math.min(last, Math.max(0, Math.round(place)))]!;
  });
}

/** Lowest and highest pressure that readings of the signal belong to. */
export function testedPressures(grid: PressureGrid, signal: Series, lagS: number): [number, number] {
  return extent(signal.time.map((t) => pressureAt(grid, t - lagS)));
}

/**
 * Lays each reading of the signal beside the pressure that it belongs to.
 *
 * @param half  half of the tested pressures
 */
export function pairReadings(grid: PressureGrid, signal: Series, lagS: number, half: number): Pairs {
  // Seen over a second, or over a four-hundredth of a long sweep on each side; less than a two-hundredth of the half range is
  // a hand at rest (common practice).
  const look = Math.max(0.5, (signal.time.at(-1)! - signal.time[0]!) / 400);
  const rest = half / 200;
  const direction = signal.time.map((t) => {
    const rate = pressureAt(grid, t - lagS + look) - pressureAt(grid, t - lagS - look);
    return Math.abs(rate) < rest ? 0 : Math.sign(rate);
  });
  return {
    elapsedS: signal.time,
    pressure: signal.time.map((t) => pressureAt(grid, t - lagS)),
    signal: signal.value,
    direction,
  };
}

/**
 * By how much the pressure typically moves within a second, as a standard deviation (a ramp is a rectangle, JCGM 100:2008
 * 4.3.7): what dithers the manometer's last digit.
 */
export function typicalMovement({ elapsedS, pressure }: Pairs): number {
  const moved: number[] = [];
  let back = 0;
  for (let i = 1; i < elapsedS.length; i += 1) {
    while (elapsedS[i]! - elapsedS[back]! > 1 && back < i - 1) back += 1;
    moved.push(Math.abs(pressure[i]! - pressure[back]!) / (elapsedS[i]! - elapsedS[back]! || 1));
  }
  return median(Float64Array.from(moved)) / Math.sqrt(12);
}
