import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { findFalls } from '../../../../shared/analysis/sweep/flame/falls.ts';
import { runsWhere } from '../../../../shared/analysis/sweep/series/series.ts';

/** Ten readings a second. */
const read = (...values: number[]) => ({
  time: Float64Array.from(values, (_, i) => i / 10),
  value: Float64Array.from(values),
});

describe('runs', () => {
  it('hold each index for which it is true once, none beside, and do not touch each other', () => {
    fc.assert(
      fc.property(fc.array(fc.boolean(), { maxLength: 30 }), (held) => {
        const runs = runsWhere(held.length, (i) => held[i]!);
        const inside = held.map((_, i) => runs.filter(([from, to]) => i >= from && i < to).length);
        expect(inside).toEqual(held.map(Number));
        for (const [k, [from]] of runs.entries()) expect(from).toBeGreaterThan(runs[k - 1]?.[1] ?? -1);
      }),
      { numRuns: 500, seed: 1 },
    );
  });
});

describe('a fall below what is required', () => {
  // Required: 4 V; noise 0.1 V, so that a fall goes below 3.6 V.
  const fallsOf = (series: ReturnType<typeof read>) => findFalls(series, 4, 0.1);

  it('goes from its first low reading to the first good one after it, and says its lowest', () => {
    expect(fallsOf(read(5, 5, 3.9, 1, 2, 5, 5, 5))).toEqual([{ from: 2, to: 5, least: 1 }]);
  });

  it('is none where one reading alone is low, or all are within the noise of what is required', () => {
    expect(fallsOf(read(5, 5, 1, 5, 5, 5))).toEqual([]);
    expect(fallsOf(read(5, 5, 3.7, 3.7, 5, 5))).toEqual([]);
  });

  it('is none where its beginning or its end was not seen', () => {
    expect(fallsOf(read(1, 1, 1, 5, 5, 5))).toEqual([]);
    expect(fallsOf(read(5, 5, 5, 1, 1, 1))).toEqual([]);
    const series = read(5, 5, 5, 1, 1, 5, 5);
    // The meter was silent for 3 s while the signal came back.
    expect(fallsOf({ ...series, time: series.time.map((t, i) => (i < 5 ? t : t + 3)) })).toEqual([]);
  });
});
