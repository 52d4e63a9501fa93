import { describe, expect, it } from 'vitest';
import { isPlotted, pairUp, valueAt } from '../../renderer/plot/geometry/pairs.ts';
import { binnedMedians } from '../../renderer/plot/geometry/binned-medians.ts';

const column = (points: [number, number][]) => ({
  elapsedS: Float64Array.from(points, ([t]) => t),
  value: Float64Array.from(points, ([, v]) => v),
  length: points.length,
});
const ramp = (from: number, to: number, startS: number, endS: number): [number, number][] =>
  Array.from({ length: (endS - startS) * 10 + 1 }, (_, i) => {
    const t = startS + i / 10;
    return [t, from + ((to - from) * (t - startS)) / (endS - startS)];
  });

/** A flame burns all the time. */
const lit = [{ fromS: -1e6, toS: 1e6, kind: 'lit' as const }];

describe('the pressure at a moment', () => {
  const pressure = column([
    [0, 1],
    [1, 2],
    [2, Number.NaN],
    [3, 4],
    [10, 5],
  ]);
  it('is interpolated linearly between two readings', () => expect(valueAt(pressure, 0.25)).toBeCloseTo(1.25, 12));
  it('is not known before the first reading, after the last, next to a flagged one and across a long gap', () => {
    for (const t of [-1, 11, 1.5, 2.5, 2, 6]) expect(valueAt(pressure, t)).toBeUndefined();
  });
});

describe('pairs', () => {
  it('say which way the regulator was turned', () => {
    const pressure = column([...ramp(1, 5, 0, 20), ...ramp(5, 1, 20.1, 40.1)]);
    const signal = column([
      [10, 3],
      [30, 3.5],
    ]);
    const pairs = pairUp(pressure, signal, [], lit);
    expect(pairs.length).toBe(2);
    expect(pairs.pressure[0]).toBeCloseTo(3, 9);
    expect([...pairs.direction.subarray(0, 2)]).toEqual([1, -1]);
  });

  it('call a regulator at rest that only wobbles a little', () => {
    const pressure = column(ramp(0, 1, 0, 20).map(([t], i) => [t, 4 + 0.005 * (-1) ** i]));
    expect(pairUp(pressure, column([[10.05, 3]]), [], lit).direction[0]).toBe(0);
  });

  it('leave trials out, and everything outside the sweeps once there is one', () => {
    const sweeps = [
      { fromS: 10, toS: 20, isVoid: false },
      { fromS: 30, toS: 40, isVoid: true },
    ];
    const trials = [{ fromS: 12, toS: 13 }];
    expect(isPlotted(5, [], [])).toBe(true);
    expect(isPlotted(5, sweeps, [])).toBe(false);
    expect(isPlotted(15, sweeps, trials)).toBe(true);
    expect(isPlotted(12.5, sweeps, trials)).toBe(false);
    // A discarded sweep does not count, and where all were discarded nothing does: as in the analysis.
    expect(isPlotted(35, sweeps, [])).toBe(false);
    expect(isPlotted(5, sweeps.slice(1), [])).toBe(false);
  });
});

it('belong to the stretch with a flame in which they were read, or to none', () => {
  const pressure = column(ramp(1, 5, 0, 40));
  const signal = column([5, 12, 20, 30, 39].map((t) => [t, 3]));
  const stretches = [
    { fromS: 0, toS: 10, kind: 'lit' as const },
    { fromS: 10, toS: 15, kind: 'lost' as const },
    { fromS: 15, toS: 25, kind: 'lit' as const },
    { fromS: 25, toS: 35, kind: 'unknown' as const },
  ];
  const { stretch, length } = pairUp(pressure, signal, [], stretches);
  expect([...stretch.subarray(0, length)]).toEqual([0, -1, 2, -1, -1]);
});

it('takes medians in one direction of turning in one stretch with a flame, and none where a bin is empty', () => {
  const pairs = {
    pressure: Float64Array.of(0.1, 0.2, 0.3, 2.1, 2.2, 0.1, 0.1, 0.1),
    signal: Float64Array.of(1, 9, 2, 5, 7, 100, 100, 100),
    direction: Int8Array.of(1, 1, 1, 1, 1, -1, 1, 1),
    stretch: Int32Array.of(4, 4, 4, 4, 4, 4, -1, 6),
    length: 8,
  };
  const medians = binnedMedians(pairs, 1, 4, [0, 3], 3);
  expect(medians.pressure).toEqual([0.2, Number.NaN, expect.closeTo(2.15, 9)]);
  expect(medians.signal).toEqual([2, Number.NaN, 6]);
});
