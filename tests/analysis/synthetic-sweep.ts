import type { Capture } from '../../shared/model/capture.ts';
import type { Reading } from '../../shared/model/reading.ts';
import { createRandom } from '../../shared/numerics/random.ts';
import { captureOf } from '../benchmark/sweep/simulate.ts';

/** Pressure of a regulator that is turned evenly from 5 to 0.5 inH2O and back within 200 s. */
export const downAndUp = (elapsedS: number): number => 0.5 + (4.5 * Math.abs(100 - elapsedS)) / 100;

/** A steady signal with two logistic shoulders, at 1 and 4 inH2O, and a plateau of 4.6 V. */
export const twoShoulders = (pressure: number): number =>
  4.6 / (1 + Math.exp((1 - pressure) / 0.08)) / (1 + Math.exp((pressure - 4) / 0.1));

/**
 * A sweep without any lag, both meters read at the same times.
 *
 * @param signalAt    signal in V at a pressure in inH2O and a time in s
 * @param pressureAt  pressure in inH2O at a time in s
 */
export function sweepWith(
  signalAt: (pressure: number, elapsedS: number) => number,
  { pressureAt = downAndUp, stepS = 0.5, lastS = 200, seed = 1 } = {},
): Capture {
  const random = createRandom(seed);
  const readings: Reading[] = [];
  for (let t = 0; t < lastS; t += stepS) {
    const pressure = pressureAt(t);
    const add = (role: Reading['role'], unit: Reading['unit'], value: number) =>
      readings.push({ role, unit, elapsedS: t, value, raw: String(value) });
    add('pilot_pressure', 'inH2O', Math.round((pressure + 0.003 * random.normal()) * 1000) / 1000);
    add('flame_signal', 'V', signalAt(pressure, t));
  }
  return captureOf(readings);
}
