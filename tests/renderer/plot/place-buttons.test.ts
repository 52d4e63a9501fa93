import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { placeButtons } from '../../../renderer/plot/geometry/place-buttons.ts';

describe('buttons under a time line', () => {
  it('are as wide as their spans where there is room', () => {
    expect(placeButtons([[0, 100], [200, 300]], 400, 44)).toEqual([{ left: 0, width: 100 }, { left: 200, width: 100 }]); // prettier-ignore
  });

  it('stand in the middle of a short span, wide enough for a finger', () => {
    expect(placeButtons([[198, 202]], 400, 44)).toEqual([{ left: 178, width: 44 }]);
  });

  it('do not leave the time line at its ends', () => {
    expect(placeButtons([[0, 2]], 400, 44)).toEqual([{ left: 0, width: 44 }]);
    expect(placeButtons([[398, 400]], 400, 44)).toEqual([{ left: 356, width: 44 }]);
  });

  it('never lie over each other nor outside, however many there are', () => {
    const span = fc.tuple(fc.double({ min: 0, max: 700, noNaN: true }), fc.double({ min: 0, max: 300, noNaN: true }));
    fc.assert(
      fc.property(fc.array(span, { minLength: 1, maxLength: 40 }), (drawn) => {
        const spans = drawn
          .map(([from, length]): [number, number] => [from, Math.min(700, from + length)])
          .sort((a, b) => a[0] - b[0]);
        const placed = placeButtons(spans, 700, 44);
        const enough = Math.min(44, 700 / spans.length) - 1e-6;
        placed.forEach(({ left, width }, i) => {
          expect(width).toBeGreaterThanOrEqual(enough);
          expect(left).toBeGreaterThanOrEqual(-1e-6);
          expect(left + width).toBeLessThanOrEqual((placed[i + 1]?.left ?? 700) + 1e-6);
        });
      }),
      { numRuns: 300, seed: 11 },
    );
  });
});
