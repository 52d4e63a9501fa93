import { extent, median } from '../../../numerics/descriptive.ts';
import { pressureAt, type PressureGrid } from './pressure-grid.ts';
import type { Series } from './series.ts';

/** Each reading of the signal with the pressure that it belongs to, lag removed; equal lengths. */
export interface Pairs {
  elapsedS: Float64Array;
  pressure: Float64Array;
  signal: Float64Array;
  /** +1 turning in (pressure rises), -1 turning out, 0 at rest. */
  direction: Float64Array;
}

/** Middle and half width of the tested pressures: the scale on which the plateau may tilt and bow. */
export interface TestedScale {
  middle: number;
  half: number;
}

/**
 * By how many seconds a signal reading may lie before the first or after the last of the manometer: two meters never begin at
 * once.
 */
const overlapS = 0.5;

/**
 * 1 for readings whose pressure is known: not inside a gap of the manometer, nor before its first or after its last reading.
 *
 * @param times  seconds
 */
export function whilePressureKnown(grid: PressureGrid, times: Float64Array): Uint8Array {
  const last = grid.pressure.length - 1;
  const keep = new Uint8Array(times.length);
  for (let i = 0; i < times.length; i += 1) {
    const place = (times[i]! - grid.startS) / grid.stepS;
    if (place < -overlapS / grid.stepS || place > last + overlapS / grid.stepS) continue;
    keep[i] = grid.known[Math.min(last, Math.max(0, Math.round(place)))]!;
  }
  return keep;
}

/** Lowest and highest pressure that readings of the signal belong to, at a given lag in seconds. */
export function testedPressures(grid: PressureGrid, signal: Series, lagS: number): [number, number] {
  return extent(signal.time.map((t) => pressureAt(grid, t - lagS)));
}

/**
 * Lowest and highest pressure that the sweep went through while it is not known whether a flame burned: from a second before each moment
 * until the next reading that counts. Undefined where there was no such moment.
 *
 * @param unclearS  moments, seconds
 * @param counting  times of the readings of the signal that count, rising
 */
export function pressuresWhileUnclear(
  grid: PressureGrid,
  unclearS: readonly number[],
  counting: Float64Array,
): [number, number] | undefined {
  const passed = unclearS.flatMap((at) => {
    const until = counting.find((t) => t > at + 1) ?? grid.startS + (grid.pressure.length - 1) * grid.stepS;
    const steps = Math.max(0, Math.ceil((until - at + 1) / grid.stepS));
    return Array.from({ length: steps + 1 }, (_, i) => pressureAt(grid, Math.min(until, at - 1 + i * grid.stepS)));
  });
  return passed.length > 0 ? extent(Float64Array.from(passed)) : undefined;
}

/**
 * Puts the pressure that it belongs to beside each reading of the signal.
 *
 * @param lagS  seconds by which the signal follows the pressure
 * @param half  half width of the tested pressures
 */
export function pairReadings(grid: PressureGrid, signal: Series, lagS: number, half: number): Pairs {
  // The direction is taken over a second, or over a two-hundredth of a long sweep, in which a steady turn covers about a
  // fiftieth of the half width. The regulator is at rest where it is less than a fourth of that.
  const sideS = Math.max(0.5, (signal.time.at(-1)! - signal.time[0]!) / 400);
  const atRest = half / 200;
  const direction = signal.time.map((t) => {
    const change = pressureAt(grid, t - lagS + sideS) - pressureAt(grid, t - lagS - sideS);
    return Math.abs(change) < atRest ? 0 : Math.sign(change);
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
 * 4.3.7), in its unit: what dithers the manometer's last digit.
 */
export function typicalMovement({ elapsedS, pressure }: Pairs): number {
  const rates: number[] = [];
  let back = 0;
  for (let i = 1; i < elapsedS.length; i += 1) {
    while (elapsedS[i]! - elapsedS[back]! > 1 && back < i - 1) back += 1;
    rates.push(Math.abs(pressure[i]! - pressure[back]!) / (elapsedS[i]! - elapsedS[back]! || 1));
  }
  return median(Float64Array.from(rates)) / Math.sqrt(12);
}
