import { assert, double, integer, property } from 'fast-check';
import { describe, expect, it } from 'vitest';
import { extent, linearScale, niceTicks } from '../../shared/report/scale.ts';

describe('axes', () => {
  it('picks round ticks', () => {
    expect(niceTicks(0.365, 5.135, 9).values).toEqual([0.5, 1, 1.5, 2, 2.5, 3, 3.5, 4, 4.5, 5]);
    expect(niceTicks(0, 1, 5)).toEqual({ values: [0, 0.2, 0.4, 0.6, 0.8, 1], decimals: 1 });
    expect(niceTicks(-120, 1040, 6).values).toEqual([0, 200, 400, 600, 800, 1000]);
  });

  it('keeps every tick inside the axis, in order, and apart as printed', () => {
    assert(
      property(
        double({ min: -1e6, max: 1e6, noNaN: true }),
        double({ min: 1e-3, max: 1e6, noNaN: true }),
        integer({ min: 3, max: 12 }),
        (low, width, count) => {
          const { values, decimals } = niceTicks(low, low + width, count);
          expect(values.length).toBeGreaterThan(0);
          expect(values.length).toBeLessThanOrEqual(2 * count + 1);
          const printed = values.map((value) => value.toFixed(decimals));
          expect(new Set(printed).size).toBe(values.length);
          for (const value of values) {
            expect(value).toBeGreaterThanOrEqual(low - width * 1e-6);
            expect(value).toBeLessThanOrEqual(low + width * (1 + 1e-6));
          }
        },
      ),
    );
  });

  it('draws one value and no value without dividing by zero', () => {
    expect(extent([3, 3, Number.NaN])).toEqual([2.5, 3.5]);
    expect(extent([Number.NaN], [])).toEqual([0, 1]);
    const scale = linearScale(...extent([3]), 0, 100);
    expect(scale(3)).toBe(50);
  });
});
