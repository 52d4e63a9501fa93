import { describe, expect, it } from 'vitest';
import { degreesAbove } from '../../../shared/analysis/curve/effective-sample-size.ts';
import type { CurveFit } from '../../../shared/analysis/curve/fit-shape.ts';

/** A signal of 0 to 10 V, ten readings a volt, at pressures that rise with it. */
const predicted = Float64Array.from({ length: 101 }, (_, i) => i / 10);
const pressure = predicted.map((level) => 1 + level / 10);
const curve = { predicted } as unknown as CurveFit;
const everywhere: [number, number] = [-Infinity, Infinity];

describe('degrees of freedom by the readings between an end and the plateau', () => {
  it('are a third of the readings above the required signal and below 97 % of the height', () => {
    // Above 7 V and below 9.7 V: 7.1 to 9.6 V, 26 readings.
    expect(degreesAbove(curve, pressure, everywhere, 7, 40)).toBeCloseTo(26 / 3, 12);
  });
  it('are no more than the shoulder has, and at least two', () => {
    expect(degreesAbove(curve, pressure, everywhere, 7, 4)).toBe(4);
    expect(degreesAbove(curve, pressure, everywhere, 9.5, 4)).toBe(2);
  });
  it('count one side of the plateau only', () => {
    // 7.1 to 8 V: 10 readings.
    expect(degreesAbove(curve, pressure, [0, 1.8001], 7, 40)).toBeCloseTo(10 / 3, 12);
  });
});
