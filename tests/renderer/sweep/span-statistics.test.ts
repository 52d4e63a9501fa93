import { describe, expect, it } from 'vitest';
import { formatNumber } from '../../../shared/model/format.ts';
import { nearestReading, readingRange, spanStatistics } from '../../../renderer/state/live/span-statistics.ts';
import { columnOf } from '../state/column-of.ts';
import { statisticsCells } from '../../../renderer/sweep/SpanValues.tsx';

const column = (...pairs: [number, number][]) => ({
  elapsedS: Float64Array.from([...pairs.map(([t]) => t), 99]),
  value: Float64Array.from([...pairs.map(([, v]) => v), 1e9]),
  // The last place is not filled.
  length: pairs.length,
});
const readings = column([0, 9], [1, 2], [2, 4], [3, 4], [4, 4], [5, 5], [6, 5], [7, 7], [8, 9], [9, 50]);

describe('what the readings of a span were', () => {
  it('is their number, mean, sample deviation and extremes, both ends included', () => {
    // By hand: 2, 4, 4, 4, 5, 5, 7, 9 have the mean 5 and squared deviations of 32 in all, so sqrt(32 / 7).
    const found = spanStatistics(readings, 1, 8);
    expect(found).toMatchObject({ count: 8, flagged: 0, mean: 5, lowest: 2, highest: 9 });
    expect(found.deviation).toBeCloseTo(Math.sqrt(32 / 7), 12);
  });

  it('counts readings without a number and leaves them out', () => {
    const found = spanStatistics(column([0, 1], [1, Number.NaN], [2, 3]), 0, 5);
    expect(found).toMatchObject({ count: 2, flagged: 1, mean: 2, lowest: 1, highest: 3 });
  });

  it('is none without a reading, and has no deviation with one', () => {
    expect(spanStatistics(readings, 20, 30)).toMatchObject({ count: 0, mean: Number.NaN, lowest: Number.NaN });
    expect(spanStatistics(readings, 9, 9)).toMatchObject({ count: 1, mean: 50, deviation: Number.NaN });
  });

  it.each([
    [1, 8, '5.00', '2.1', '2.00', '9.00', '8'],
    [9, 9, '50.00', '–', '50.00', '50.00', '1'],
    [20, 30, '–', '–', '–', '–', '0'],
  ])('is said with its digits, from %d to %d s', (fromS, toS, ...cells) => {
    expect(statisticsCells(spanStatistics(readings, fromS, toS), (value) => formatNumber(value, 2))).toEqual(cells);
  });
});

it('the pressures of a sweep are those read inside it, the flagged ones left out', () => {
  const sweep = columnOf([9, 2, Number.NaN, 1.5, 3, 0.1].map((value, i) => [i, value]));
  expect(readingRange(sweep, 1, 4)).toEqual([1.5, 3]);
  expect(readingRange(sweep, 2, 2.5)).toBeUndefined();
  expect(readingRange(sweep, 1, Infinity)).toEqual([0.1, 3]);
});

describe('the reading under the pointer', () => {
  it('is the nearest in time, where one is near enough', () => {
    expect(nearestReading(readings, 3.4, 1)).toBe(3);
    expect(nearestReading(readings, 3.6, 1)).toBe(4);
    expect(nearestReading(readings, -0.5, 1)).toBe(0);
    expect(nearestReading(readings, 12, 1)).toBeUndefined();
    expect(nearestReading(column(), 1, 1)).toBeUndefined();
  });
});
