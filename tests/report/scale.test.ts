import { assert, double, integer, property } from 'fast-check';
import { describe, expect, it } from 'vitest';
import { extent, linearScale, ticksOf } from '../../shared/report/charts/scale.ts';

const ticks = (low: number, high: number, count: number) => ticksOf(linearScale([low, high], [0, 100]), count);
const values = (...axis: Parameters<typeof ticks>) => ticks(...axis).map(({ value }) => value);
const texts = (...axis: Parameters<typeof ticks>) => ticks(...axis).map(({ text }) => text);

describe('axes', () => {
  it('picks round ticks', () => {
    expect(values(0.365, 5.135, 9)).toEqual([0.5, 1, 1.5, 2, 2.5, 3, 3.5, 4, 4.5, 5]);
    expect(values(0, 1, 5)).toEqual([0, 0.2, 0.4, 0.6, 0.8, 1]);
    expect(values(-120, 1040, 6)).toEqual([0, 200, 400, 600, 800, 1000]);
  });

  it('writes them with the decimals of their step, without grouping, with a minus sign', () => {
    expect(texts(0, 1, 5)).toEqual(['0.0', '0.2', '0.4', '0.6', '0.8', '1.0']);
    expect(texts(-0.11, 0.11, 5)).toEqual(['\u22120.10', '\u22120.05', '0.00', '0.05', '0.10']);
    expect(texts(-1000, 3000, 4)).toEqual(['\u22121000', '0', '1000', '2000', '3000']);
  });

  it('keeps every tick inside the axis, in order, and apart as printed', () => {
    assert(
      property(
        double({ min: -1e6, max: 1e6, noNaN: true }),
        double({ min: 1e-3, max: 1e6, noNaN: true }),
        integer({ min: 3, max: 12 }),
        (low, width, count) => {
          const found = ticks(low, low + width, count);
          expect(found.length).toBeGreaterThan(0);
          expect(found.length).toBeLessThanOrEqual(2 * count + 1);
          expect(new Set(found.map(({ text }) => text)).size).toBe(found.length);
          expect(found.toSorted((a, b) => a.value - b.value)).toEqual(found);
          for (const { value } of found) {
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
    const scale = linearScale(extent([3]), [0, 100]);
    expect(scale(3)).toBe(50);
    expect(scale(Number.NaN)).toBeNaN();
  });
});
