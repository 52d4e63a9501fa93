import { describe, expect, it } from 'vitest';
import { slicesOf } from '../../../../shared/analysis/sweep/series/slices.ts';

describe('slices of pressure', () => {
  const slices = (...pressures: number[]) =>
    slicesOf(Float64Array.from(pressures), Float64Array.from(pressures), [1, 3], 4);

  it('hold each reading once, those of both limits too', () => {
    expect(slices(1, 1.4, 1.5, 2.2, 2.9, 3, 3)).toEqual([[1, 1.4], [1.5], [2.2], [2.9, 3, 3]]);
  });

  it('leave out what lies beyond the limits', () => {
    expect(slices(0.99, 3.01)).toEqual([[], [], [], []]);
  });

  it('lose no reading of a sweep between its lowest and its highest pressure, whatever these are', () => {
    for (const [low, high] of [
      [0.1, 0.7],
      [1.13, 4.87],
      [280.1, 1203.3],
    ] as const)
      for (const count of [16, 24, 32, 40]) {
        const pressure = Float64Array.from({ length: 400 }, (_, i) => low + ((high - low) * i) / 399);
        expect(slicesOf(pressure, pressure, [low, pressure.at(-1)!], count).flat()).toHaveLength(400);
      }
  });
});
