import { describe, expect, it } from 'vitest';
import { passedAround, withMoment } from '../../../../shared/analysis/window/ends/loss-moment.ts';
import { exactEstimate } from '../../../../shared/analysis/curve/estimate.ts';
import { pressureGrid } from '../../../../shared/analysis/sweep/series/pressure-grid.ts';

/** Stairs: 3 inH2O, turned to 2 at 10 s, to 1.5 at 20 s, to 1 at 30 s, each within a second, and at rest between. */
const stairs = (t: number) =>
  [10, 20, 30].reduce((p, at, k) => p - [1, 0.5, 0.5][k]! * Math.min(1, Math.max(0, t - at)), 3);
const time = Float64Array.from({ length: 401 }, (_, i) => i / 10);
const grid = pressureGrid({ time, value: time.map(stairs) }, 0.1);

describe('the pressures of the moment at which a flame was lost, at rest or while it was turned', () => {
  it('are those that were passed within twice its uncertainty while it was turned', () => {
    const [least, most] = passedAround(grid, 20.5, 0.1);
    // Half an inch a second: 0.2 s either way of 1.75 inH2O.
    expect(least).toBeCloseTo(1.65, 1);
    expect(most).toBeCloseTo(1.85, 1);
  });
  it('reach back to where it rested before its last turn when it went out at rest', () => {
    for (const atS of [23, 27, 29.5]) {
      const [least, most] = passedAround(grid, atS, 0.1);
      expect(least).toBeCloseTo(1.5, 1);
      expect(most).toBeCloseTo(2, 1);
    }
  });
  it('give an end that was lost at rest an interval', () => {
    const { ci } = withMoment(exactEstimate(1.5), grid, 27, { timeU: 0.1, pressureU: 0 });
    expect(ci[1] - ci[0]).toBeGreaterThan(0.4);
  });
  it('are that of now where it was never turned before', () => {
    const [least, most] = passedAround(grid, 5, 0.1);
    expect(most - least).toBeLessThan(0.01);
  });
});
