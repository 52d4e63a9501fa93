import { describe, expect, it } from 'vitest';
import { averageBlocks } from '../../../../shared/analysis/sweep/series/series.ts';

/** Twenty readings a second, with the given stretches left out, seconds; each reading's value is its time. */
const readings = (seconds: number, without: readonly (readonly [number, number])[] = []) => {
  const time = Float64Array.from({ length: seconds * 20 }, (_, i) => i / 20).filter(
    (t) => !without.some(([from, to]) => t > from && t < to),
  );
  return { time, value: time.slice() };
};

describe('means of blocks', () => {
  it('leave a short series as it is', () => {
    const some = readings(10);
    expect(averageBlocks(some, 200)).toBe(some);
  });

  it('hold every reading once', () => {
    const { time, value } = averageBlocks(readings(10), 50);
    expect(time).toHaveLength(50);
    // Means of four: the first is that of 0, 0.05, 0.1 and 0.15.
    expect(time[0]).toBeCloseTo(0.075, 12);
    expect(value[0]).toBeCloseTo(0.075, 12);
  });

  // Gas was shut, or a meter was silent: in the middle of the gap the pressure was another.
  it('are never those of readings before and after a gap', () => {
    const gaps = [
      [3.31, 30],
      [44.02, 71.5],
    ] as const;
    const { time } = averageBlocks(readings(100, gaps), 300);
    for (const [from, to] of gaps)
      expect(Array.from(time).filter((t) => t > from + 0.001 && t < to - 0.001)).toEqual([]);
    expect(time.length).toBeLessThan(310);
  });
});
