import { columnOf } from './column-of.ts';
import { expect, it } from 'vitest';
import { readingRange } from '../../renderer/state/live/reading-range.ts';

it('the pressures of a sweep are those read inside it, the flagged ones left out', () => {
  const column = columnOf([9, 2, Number.NaN, 1.5, 3, 0.1].map((value, i) => [i, value]));
  expect(readingRange(column, 1, 4)).toEqual([1.5, 3]);
  expect(readingRange(column, 2, 2.5)).toBeUndefined();
  expect(readingRange(column, 1, Infinity)).toEqual([0.1, 3]);
});
