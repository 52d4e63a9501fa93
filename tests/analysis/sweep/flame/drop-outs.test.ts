import { describe, expect, it } from 'vitest';
import { findDropOuts, withoutDropOuts } from '../../../../shared/analysis/sweep/flame/drop-outs.ts';
import { pressureGrid } from '../../../../shared/analysis/sweep/series/pressure-grid.ts';
import type { Series } from '../../../../shared/analysis/sweep/series/series.ts';

/** Good between 1.5 and 3.5 inH2O. */
const steady = (p: number) => (p > 1.5 && p < 3.5 ? 5 : 1);
/** From 1 up to 4 inH2O in a minute and back, five readings a second; the signal follows at once and falls where `isOut`. */
const pressureAt = (t: number) => 1 + 3 * (t < 60 ? t / 60 : 2 - t / 60);
function dropOutsOf(isOut: (t: number) => boolean, least = 0.2) {
  const time = Float64Array.from({ length: 600 }, (_, i) => i / 5);
  const signal: Series = { time, value: time.map((t) => (isOut(t) ? least : steady(pressureAt(t)))) };
  const pressure: Series = { time, value: time.map(pressureAt) };
  return {
    signal,
    found: findDropOuts(pressureGrid(pressure, 0.2), signal, { lagS: 0.3, plateau: 5, dark: 0 }, 4.5, 0.01),
  };
}

describe('a signal that drops out amid good pressures', () => {
  it('is found with its moment, its length, its pressure and its lowest signal', () => {
    const { found } = dropOutsOf((t) => t >= 30 && t < 32);
    expect(found).toHaveLength(1);
    expect(found[0]).toMatchObject({ atS: 30, seconds: 2, least: 0.2 });
    // 2.5 inH2O at 30 s; a reading before that 2.49.
    expect(Math.abs(found[0]!.pressure - 2.5)).toBeLessThan(0.02);
  });

  it('is found though a lag keeps it from getting dark', () => {
    expect(dropOutsOf((t) => t >= 30 && t < 31.5, 3).found).toHaveLength(1);
  });

  it('is none where the signal goes on falling at three fifths for six seconds: a flame that is out would be dark by then', () => {
    const slowly = (t: number) => (t >= 30 && t < 36 ? 3.2 - 0.05 * (t - 30) : undefined);
    const time = Float64Array.from({ length: 600 }, (_, i) => i / 5);
    const signal = { time, value: time.map((t) => slowly(t) ?? steady(pressureAt(t))) };
    const grid = pressureGrid({ time, value: time.map(pressureAt) }, 0.2);
    expect(findDropOuts(grid, signal, { lagS: 0.3, plateau: 5, dark: 0 }, 4.5, 0.01)).toEqual([]);
  });

  it('leaves its readings out until the signal has settled, and no others', () => {
    const { signal, found } = dropOutsOf((t) => t >= 30 && t < 32);
    const kept = withoutDropOuts(signal, found);
    // From the good reading at 29.8 s to 0.9 s, three lags, after the one at 32 s: up to 32.8 s at five a second.
    expect(signal.time.length - kept.time.length).toBe(16);
  });

  it('is none past an end of the window, where the pressure makes the signal fall', () => {
    expect(dropOutsOf(() => false).found).toEqual([]);
    // Out from 3.4 inH2O on the way up until 3.4 on the way down again, though it was good up to 3.5 on another day.
    expect(dropOutsOf((t) => t >= 48 && t < 72).found).toEqual([]);
  });

  it('nor where the signal is low at these pressures every time: the steady curve may dip there', () => {
    const dips = (t: number) => pressureAt(t) > 2.2 && pressureAt(t) < 2.6;
    expect(dropOutsOf(dips).found).toEqual([]);
  });

  it('nor one reading alone, which may be a spike', () => {
    expect(dropOutsOf((t) => t >= 30 && t < 30.1).found).toEqual([]);
  });

  it('nor past an end where a lag that is estimated seconds too long puts the good signal at a pressure before it', () => {
    // Gas on at 10 s, from the fan's 0.2 to 2 inH2O; down to 1.2 until 40 s, where the flame goes out at 1.4, and up to 4 until 100 s.
    const course = (t: number) =>
      t < 10 ? 0.2 : t < 20 ? 2 : t < 40 ? 2 - (t - 20) / 25 : 1.2 + (2.8 * (t - 40)) / 60;
    const time = Float64Array.from({ length: 450 }, (_, i) => 10 + i / 5);
    const lostS = 35;
    const signal = { time, value: time.map((t) => (t < lostS || t > 55 ? 5 : 0.2)) };
    const all = Float64Array.from({ length: 500 }, (_, i) => i / 5);
    const grid = pressureGrid({ time: all, value: all.map(course) }, 0.2);
    for (const lagS of [0.3, 5])
      expect(findDropOuts(grid, signal, { lagS, plateau: 5, dark: 0 }, 4.5, 0.01)).toEqual([]);
  });
});
