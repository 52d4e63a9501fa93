import { describe, expect, it } from 'vitest';
import { createBinnedMedians } from '../../../renderer/plot/geometry/binned-medians.ts';
import { createNewestInCells } from '../../../renderer/plot/geometry/newest-in-cells.ts';
import { createPairing, isPlotted, valueAt } from '../../../renderer/plot/geometry/pairs.ts';
import { createLiveBuffer } from '../../../renderer/state/live/live-buffer.ts';
import type { Mark } from '../../../shared/model/capture.ts';
import { roles } from '../../../shared/model/reading.ts';
import type { Stretch } from '../../../shared/model/stretches.ts';
import { createRandom } from '../../../shared/numerics/random.ts';
import { columnOf } from '../state/column-of.ts';

const column = columnOf;
const pairUp = (...args: Parameters<ReturnType<typeof createPairing>['update']>) => createPairing().update(...args);
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
    expect(pairs.pressure.length).toBe(2);
    expect(pairs.pressure[0]).toBeCloseTo(3, 9);
    expect(pairs.direction).toEqual([1, -1]);
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
  const { stretch } = pairUp(pressure, signal, [], stretches);
  expect(stretch).toEqual([0, -1, 2, -1, -1]);
});

it('takes medians in each direction of turning in each stretch with a flame, and none where a bin is empty', () => {
  const pairs = {
    pressure: [0.1, 0.2, 0.3, 2.1, 2.2, 0.1, 0.1, 0.1],
    signal: [1, 9, 2, 5, 7, 100, 100, 100],
    direction: [1, 1, 1, 1, 1, -1, 1, 0],
    stretch: [4, 4, 4, 4, 4, 4, -1, 4],
    generation: 1,
  };
  const lines = createBinnedMedians(3).update(pairs, [0, 3]);
  expect(lines.map(({ direction }) => direction)).toEqual([1, -1]);
  expect(lines[0]?.medians.pressure).toEqual([0.2, Number.NaN, expect.closeTo(2.15, 9)]);
  expect(lines[0]?.medians.signal).toEqual([2, Number.NaN, 6]);
  expect(lines[1]?.medians.signal).toEqual([Number.NaN, Number.NaN, Number.NaN]);
});

describe('what grows with the readings', () => {
  const batch = (role: number, points: [number, number][], upTo: number) => ({
    elapsedS: points.map(([t]) => t),
    value: points.map(([, v]) => v),
    role: points.map(() => role),
    flag: points.map(() => 0),
    upTo,
  });
  // Roles by their number in a batch: shared/model/reading.ts.
  const [pressureRole, signalRole] = [roles.indexOf('pilot_pressure'), roles.indexOf('flame_signal')];
  const seed = Date.now() % 1_000_000;

  it(`is the same as if it were made at once, in whatever pieces they come (seed ${seed})`, () => {
    const random = createRandom(seed);
    const buffer = createLiveBuffer();
    const grown = createPairing();
    const cells = createNewestInCells(7);
    const medians = createBinnedMedians();
    const scales = { x: (v: number) => v * 160, y: (v: number) => 300 - v * 50 };
    const stretches: Stretch[] = [{ fromS: 0, toS: Infinity, kind: 'lit' }];
    let t = 0;
    for (let piece = 0; piece < 60; piece += 1) {
      const points: [number, number][][] = [[], []];
      for (let n = Math.floor(random.uniform() * 40); n > 0; n -= 1) {
        t += 0.02 + 0.05 * random.uniform();
        // One reading in fifty comes late, one is flagged.
        const late = random.uniform() < 0.02 ? 1 : 0;
        const pressure = 2.5 + 2 * Math.sin(t / 9) + 0.01 * random.normal();
        points[random.uniform() < 0.5 ? 0 : 1]!.push([t - late, random.uniform() < 0.02 ? Number.NaN : pressure]);
      }
      buffer.append(batch(pressureRole, points[0]!, t) as never);
      buffer.append(batch(signalRole, points[1]!, t) as never);
      if (piece === 20)
        stretches.splice(0, 1, { fromS: 0, toS: t, kind: 'lit' }, { fromS: t, toS: Infinity, kind: 'lost' });
      const marks: Mark[] = piece < 40 ? [] : [{ elapsedS: 10, kind: 'sweep-start', text: '' }];
      const columns = [buffer.column('pilot_pressure'), buffer.column('flame_signal')] as const;
      const now = [...stretches];
      const pairs = grown.update(...columns, marks, now);
      const whole = createPairing().update(...columns, marks, now);
      expect({ ...pairs, generation: 0 }).toEqual({ ...whole, generation: 0 });
      expect(cells.update(pairs, scales)).toEqual(createNewestInCells(7).update(whole, scales));
      expect(medians.update(pairs, [0, 5])).toEqual(createBinnedMedians().update(whole, [0, 5]));
    }
  });

  it('of pairs is what their definition says: each signal reading with the pressure at its time', () => {
    const pressure = column(ramp(1, 5, 0, 20));
    const signal = column(ramp(0, 1, 0, 19.95));
    const { pressure: paired, signal: values } = pairUp(pressure, signal, [], lit);
    expect(values).toEqual([...signal.value]);
    for (const [i, p] of paired.entries()) expect(p).toBeCloseTo(1 + signal.elapsedS[i]! / 5, 9);
  });

  it('draws of the pairs in one cell the newest', () => {
    const pairs = {
      pressure: [1, 1.01, 3, 1.02],
      signal: [2, 2, 2, 2],
      direction: [0, 0, 0, 0],
      stretch: [0, 0, 0, 0],
      generation: 1,
    };
    const scales = { x: (v: number) => v * 100, y: (v: number) => v * 100 };
    const cells = createNewestInCells(7, 2);
    expect(cells.update(pairs, scales)).toEqual([2, 3]);
    pairs.pressure.push(5);
    pairs.signal.push(2);
    // The limit keeps the newest.
    expect(cells.update(pairs, scales)).toEqual([3, 4]);
  });
});
