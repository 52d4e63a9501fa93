import { describe, expect, it } from 'vitest';
import { axisFromZero, axisOfTimeAgo } from '../../../renderer/plot/geometry/axis.ts';
import { bandPath, linePath, symbolPath } from '../../../renderer/plot/geometry/paths.ts';

describe('paths', () => {
  it('break at a gap, and close a point that is alone, so that a round line cap shows it', () => {
    expect(linePath([0, 10, 20, 30], [1, 2, Number.NaN, 4], [0, 1, 2, 3])).toBe('M0,1L10,2M30,4Z');
  });
  it('close a band, along the top and back along the bottom', () => {
    expect(bandPath([0, 10], [5, 6], [1, 2], 2)).toBe('M0,1L10,2L10,6L0,5Z');
    expect(bandPath([0, 10, 20], [5, Number.NaN, 7], [1, 2, 3], 3)).toBe('M0,1L0,5ZM20,3L20,7Z');
    expect(bandPath([], [], [], 0)).toBe('');
  });
  it('draw one outline for each point, and none for one that is not finite', () => {
    expect(symbolPath('diamond', [10, Number.NaN], [20, 20], [0, 1], 4)).toBe('M10 20m0 -4l4 4l-4 4l-4 -4z');
  });
});

describe('an axis', () => {
  it('ends at a round number at or above the highest', () => {
    expect(axisFromZero(5.5)).toMatchObject({ domain: [0, 6], ticks: [0, 1, 2, 3, 4, 5, 6] });
    expect(axisFromZero(0.07, 0, 4).domain).toEqual([0, 0.08]);
    expect(axisFromZero(1370, 0, 6).ticks).toEqual([0, 200, 400, 600, 800, 1000, 1200, 1400]);
  });
  it('has a tick between its limits even where there is room for one step only', () => {
    expect(axisFromZero(4.4, 0, 1)).toMatchObject({ domain: [0, 5], ticks: [0, 2, 4] });
    expect(axisFromZero(9, 0, 1)).toMatchObject({ domain: [0, 10], ticks: [0, 5, 10] });
  });
  it('reaches below zero for values that do', () => {
    expect(axisFromZero(4, -0.3, 4).domain).toEqual([-1, 4]);
  });
  it('writes its ticks with the decimals of their step', () => {
    const { ticks, format } = axisFromZero(2.4, -0.3, 5);
    expect(ticks.map(format)).toEqual(['\u22120.5', '0.0', '0.5', '1.0', '1.5', '2.0', '2.5']);
    expect(axisFromZero(1370).format(1400)).toBe('1400');
  });
  it('is from 0 to 1 when there is nothing to show', () => {
    for (const nothing of [0, Number.NaN, Number.NEGATIVE_INFINITY])
      expect(axisFromZero(nothing).domain).toEqual([0, 1]);
  });
});

describe('an axis of time ago', () => {
  // Steps that a clock shows: 15 s, 30 s, whole minutes, 5 and 15 minutes.
  it.each([
    [60, [-60, -45, -30, -15, 0]],
    [180, [-180, -150, -120, -90, -60, -30, 0]],
    [300, [-300, -240, -180, -120, -60, 0]],
    [1020, [-900, -600, -300, 0]],
    [3600, [-3600, -2700, -1800, -900, 0]],
  ])('of %i s has ticks where a clock has them, the last of them now', (spanS, ticks) => {
    expect(axisOfTimeAgo(spanS)).toEqual({ domain: [-spanS, 0], ticks });
  });
});
