import { describe, expect, it } from 'vitest';
import { pressureWithGas, timeToProve } from '../../renderer/light-off/time-to-prove.ts';

const column = (points: [number, number][]) => ({
  elapsedS: Float64Array.from(points, ([t]) => t),
  value: Float64Array.from(points, ([, v]) => v),
  length: points.length,
});

describe('time to prove', () => {
  it('runs from the start to the first reading at the minimum signal', () => {
    expect(
      timeToProve(
        column([
          [99, 0],
          [101, 0.2],
          [102.4, 1.25],
          [103, 4],
        ]),
        100,
        1.25,
      ),
    ).toBeCloseTo(2.4, 9);
  });
  it('is not known when the signal never came, or was there before', () => {
    expect(
      timeToProve(
        column([
          [99, 0],
          [101, 1.2],
        ]),
        100,
        1.25,
      ),
    ).toBeUndefined();
    expect(
      timeToProve(
        column([
          [99.5, 4],
          [101, 4],
        ]),
        100,
        1.25,
      ),
    ).toBeUndefined();
  });
  it('passes over a flagged reading', () => {
    expect(
      timeToProve(
        column([
          [101, Number.NaN],
          [102, 3],
        ]),
        100,
        1.25,
      ),
    ).toBe(2);
  });
});

describe('the pressure of a trial', () => {
  it('is that of the flowing gas, not the fan-only pressure before and after', () => {
    const points: [number, number][] = [];
    for (let t = 100.1; t < 112; t += 0.1) points.push([t, t < 101 || t > 110 ? 0.2 : t < 101.5 ? 3.9 : 3.4]);
    expect(pressureWithGas(column([[99, 0.2], ...points]), 100)).toBe(3.4);
  });
  it('is the median when the gas was on all the time', () => {
    expect(
      pressureWithGas(
        column([
          [100.5, 2.4],
          [101, 2.41],
          [102, 2.39],
          [103, Number.NaN],
        ]),
        100,
      ),
    ).toBe(2.4);
  });
  it('is not known without a reading', () => {
    expect(pressureWithGas(column([[99, 2.4]]), 100)).toBeUndefined();
  });
});
