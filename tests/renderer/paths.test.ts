import { describe, expect, it } from 'vitest';
import { axisFromZero } from '../../renderer/plot/geometry/axis.ts';
import { bandPath, linePath, symbolPath } from '../../renderer/plot/geometry/paths.ts';

describe('paths', () => {
  it('break at a gap', () => {
    expect(linePath([0, 10, 20, 30], [1, 2, Number.NaN, 4], [0, 1, 2, 3])).toBe('M0 1L10 2M30 4');
  });
  it('close a band, along the top and back along the bottom', () => {
    expect(bandPath([0, 10], [5, 6], [1, 2], 2)).toBe('M0 1L10 2L10 6L0 5Z');
  });
  it('draw one outline for each point, and none for one that is not finite', () => {
    expect(symbolPath('diamond', [10, Number.NaN], [20, 20], [0, 1], 4)).toBe('M10 20m0 -4l4 4l-4 4l-4 -4z');
  });
});

describe('an axis', () => {
  it('ends at a round number at or above the highest', () => {
    expect(axisFromZero(5.5)).toEqual({ domain: [0, 6], ticks: [0, 1, 2, 3, 4, 5, 6] });
    expect(axisFromZero(0.07, 0, 4).domain).toEqual([0, 0.08]);
    expect(axisFromZero(1370, 0, 6).ticks).toEqual([0, 250, 500, 750, 1000, 1250, 1500]);
  });
  it('reaches below zero for values that do', () => {
    expect(axisFromZero(4, -0.3, 4).domain).toEqual([-2, 4]);
  });
  it('is from 0 to 1 when there is nothing to show', () => {
    for (const nothing of [0, Number.NaN, Number.NEGATIVE_INFINITY])
      expect(axisFromZero(nothing).domain).toEqual([0, 1]);
  });
});
