import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { contiguousSpans, thinScatter } from '../../../renderer/plot/geometry/decimate.ts';
import { thinLine } from '../../../shared/model/thin-line.ts';

describe('thinning a line', () => {
  it('never loses the highest or the lowest point, nor the first or the last', () => {
    const numbers = fc.array(fc.double({ min: -1e6, max: 1e6, noNaN: true }), { minLength: 2, maxLength: 3000 });
    fc.assert(
      fc.property(numbers, (y) => {
        const x = y.map((_, i) => i);
        const chosen = thinLine(x, y, 0, y.length, 100);
        const values = chosen.map((i) => y[i]!);
        expect(Math.max(...values)).toBe(Math.max(...y));
        expect(Math.min(...values)).toBe(Math.min(...y));
        expect(chosen[0]).toBe(0);
        expect(chosen.at(-1)).toBe(y.length - 1);
        expect(chosen).toEqual(chosen.toSorted((a, b) => a - b));
        expect(chosen.length).toBeLessThanOrEqual(125);
      }),
      { numRuns: 200 },
    );
  });

  it('keeps a gap, so that the line breaks there', () => {
    const y = Array.from({ length: 1000 }, (_, i) => (i === 500 ? Number.NaN : i));
    const chosen = thinLine(
      y.map((_, i) => i),
      y,
      0,
      1000,
      40,
    );
    expect(chosen).toContain(500);
  });

  it('leaves a short line as it is', () => {
    expect(thinLine([0, 1, 2, 3], [5, 5, 5, 5], 1, 4)).toEqual([1, 2, 3]);
  });
});

describe('thinning points', () => {
  it('keeps the newest of each cell', () => {
    expect(thinScatter([10, 10.2, 50, 10.1], [10, 10.1, 50, 10], 4, 2)).toEqual([2, 3]);
  });
  it('keeps the newest when there are too many, in order', () => {
    const x = Array.from({ length: 100 }, (_, i) => i * 10);
    expect(thinScatter(x, x, 100, 2, 3)).toEqual([97, 98, 99]);
  });
  it('leaves out points that are not finite', () => {
    expect(thinScatter([1, Number.NaN, 30], [1, 1, Number.NaN], 3)).toEqual([0]);
  });
});

describe('a line against time', () => {
  it('is not drawn across a gap: neither a pause of the meter nor a time when the program did not run', () => {
    expect(contiguousSpans([0, 2, 4, 9.5, 10, 60], 0, 6)).toEqual([[0, 3], [3, 5], [5, 6]]); // prettier-ignore
    expect(contiguousSpans([0, 1, 7, 8], 1, 4)).toEqual([[1, 2], [2, 4]]); // prettier-ignore
    // The flame burns until 1 s and again from 3 s: two stretches, however close the readings are.
    expect(contiguousSpans([0, 1, 2, 3, 4], 0, 5, (t) => (t < 1.5 ? 0 : t < 2.5 ? -1 : 2))).toEqual([[0, 2], [2, 3], [3, 5]]); // prettier-ignore
    // Nobody read the meter while the flame was out.
    expect(contiguousSpans([0, 1, 3, 4], 0, 4, (t) => (t < 2 ? 0 : 2))).toEqual([[0, 2], [2, 4]]); // prettier-ignore
    expect(contiguousSpans([], 0, 0)).toEqual([]);
  });
});
