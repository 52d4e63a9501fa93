import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { median, quantile, quantileSorted, sorted } from '../../shared/numerics/descriptive.ts';
import { hampel } from '../../shared/numerics/robust.ts';

describe('the quantile of values in any order', () => {
  // R: quantile(c(7, 1, 9, 3, 5, 8, 2, 10, 6, 4), c(0, 0.25, 0.5, 0.9, 1)), by hand from definition 7: place 9q among 1 to 10.
  it.each([
    [0, 1],
    [0.25, 3.25],
    [0.5, 5.5],
    [0.9, 9.1],
    [1, 10],
  ])('has %d of ten numbers at definition 7 of Hyndman and Fan', (q, expected) => {
    const values = Float64Array.of(7, 1, 9, 3, 5, 8, 2, 10, 6, 4);
    expect(quantile(values, q)).toBeCloseTo(expected, 14);
    expect([...values]).toEqual([7, 1, 9, 3, 5, 8, 2, 10, 6, 4]);
  });

  it('leaves out what is no number, and is none without numbers', () => {
    expect(median(Float64Array.of(Number.NaN, 4, Number.NaN, 1, 2))).toBe(2);
    expect(quantile(Float64Array.of(Number.NaN), 0.5)).toBeNaN();
    expect(quantile(new Float64Array(0), 0.5)).toBeNaN();
  });

  it('is that of the values sorted, to the last digit, with repetitions and in any order', () => {
    const values = fc.array(
      fc.oneof(fc.integer({ min: -3, max: 3 }), fc.double({ noNaN: true, min: -1e6, max: 1e6 })),
      {
        minLength: 1,
        maxLength: 300,
      },
    );
    fc.assert(
      fc.property(values, fc.double({ noNaN: true, min: 0, max: 1 }), (some, q) => {
        const numbers = Float64Array.from(some);
        expect(quantile(numbers, q)).toBe(quantileSorted(Float64Array.from(some).sort(), q) + 0);
      }),
    );
  });
});

describe('values in rising order', () => {
  it.each([[[1, 2, 2, 5]], [[5, 1, 4]], [[]], [[2, 1]]])('%j are sorted in an array of their own', (values) => {
    const given = Float64Array.from(values);
    const found = sorted(given);
    expect([...found]).toEqual(values.toSorted((a, b) => a - b));
    expect(found).not.toBe(given);
  });
});

describe('the Hampel filter', () => {
  // By hand, three on each side: around 50 stand 1, 2, 3, 50, 4, 5, 6, with median 4, deviations 3, 2, 1, 46, 0, 1, 2 and their median 2.
  it('finds the one value that lies far from the median of the seven around it', () => {
    expect(hampel(Float64Array.of(1, 2, 3, 50, 4, 5, 6), 3, 6)).toEqual([{ index: 3, median: 4 }]);
  });

  it('leaves one alone that lies no farther from the median than asked', () => {
    const values = Float64Array.of(1, 2, 3, 50, 4, 5, 6);
    expect(hampel(values, 3, 6, 46)).toEqual([]);
    expect(hampel(values, 3, 6, 45.9)).toEqual([{ index: 3, median: 4 }]);
  });

  it('cuts the span short at both ends', () => {
    // Around the first stand 90, 1, 2, 3: median 2.5, deviations 87.5, 1.5, 0.5, 0.5, their median 1.
    expect(hampel(Float64Array.of(90, 1, 2, 3, 4, 5, 6, 7), 3, 6)[0]).toEqual({ index: 0, median: 2.5 });
  });
});
