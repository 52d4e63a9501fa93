import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { TriedPoint } from '../../shared/light-off/lighting-model.ts';
import { lightingRegions } from '../../shared/light-off/lighting-regions.ts';

const at = (pressure: number, delayS: number, lit = true): TriedPoint => ({ pressure, delayS, lit });
const setting = { pressure: 2.4, tolerance: 0.1 };

/** Area of a polygon (shoelace formula). */
const area = (corners: readonly (readonly [number, number])[]): number =>
  Math.abs(
    corners.reduce((sum, [x, y], i) => {
      const [nextX, nextY] = corners[(i + 1) % corners.length]!;
      return sum + x * nextY - nextX * y;
    }, 0),
  ) / 2;
const total = (pieces: readonly (readonly (readonly [number, number])[])[]) =>
  pieces.reduce((sum, piece) => sum + area(piece), 0);

describe('the regions of pressure and spark delay', () => {
  it('are the triangle or square between trials that all lit', () => {
    const square = [at(2, 0), at(3, 0), at(2, 4), at(3, 4), at(2.5, 2)];
    const { proved, tried } = lightingRegions(square, setting);
    expect(total(proved)).toBeCloseTo(4, 12);
    expect(area(tried)).toBeCloseTo(4, 12);
  });

  it('lose what lies from a failure on outward with as late a spark, and every trial beyond it', () => {
    // A square of 1 inH2O by 4 s from 2.4 on; a failure in its middle takes the outer half of the later half: 0.5 by 2.
    const square = [at(2.4, 0), at(3.4, 0), at(2.4, 4), at(3.4, 2), at(2.9, 2, false)];
    const { proved, tried } = lightingRegions(square, setting);
    // 3.4 at 2 s is beyond the failure, so the hull is the triangle of the other three, of area 2, which the failure only touches.
    expect(total(proved)).toBeCloseTo(2, 12);
    expect(area(tried)).toBeCloseTo(3, 12);
  });

  it('are cut where a failure lies inside the hull of trials that lit elsewhere', () => {
    // Triangle of (2.4, 0), (4.4, 0), (2.4, 4); the failure at 2.9, 1 s cuts off a triangle with legs 1 and 2.
    const { proved } = lightingRegions([at(2.4, 0), at(4.4, 0), at(2.4, 4), at(2.9, 1, false)], setting);
    expect(total(proved)).toBeCloseTo(4 - 1, 12);
  });

  it('are nothing but what comes before the spark of a failure at the setting', () => {
    const trials = [at(2.4, 0), at(3, 0), at(2.4, 4), at(2.45, 2, false)];
    const { proved } = lightingRegions(trials, setting);
    // 2.4 at 4 s falls, being at the setting and later; a line is left.
    expect(total(proved)).toBe(0);
    expect(lightingRegions([at(2.4, 0), at(3, 0), at(2.45, 0, false)], setting).proved).toEqual([]);
  });

  it('stay few pieces whatever the number of failures, at one pressure or at many', () => {
    const square = [at(2, 0), at(3, 0), at(2, 9), at(3, 0.5)];
    const failures = Array.from({ length: 60 }, (_, i) => at(i < 30 ? 2.8 : 2.5 + i / 100, 4 + (i % 3), false));
    const { proved } = lightingRegions([...square, ...failures], setting);
    expect(proved.length).toBeLessThan(62);
    expect(total(proved)).toBeGreaterThan(0);
  });

  it('are empty without trials, a point for one', () => {
    expect(lightingRegions([], setting)).toEqual({ proved: [], tried: [] });
    expect(lightingRegions([at(2.4, 0)], setting)).toEqual({ proved: [[[2.4, 0]]], tried: [[2.4, 0]] });
  });

  it('never reach beyond what lit, nor to where a failure lies at or inside', () => {
    const point = fc.record({
      pressure: fc.integer({ min: 0, max: 48 }).map((n) => n / 10),
      delayS: fc.integer({ min: 0, max: 5 }),
      lit: fc.boolean(),
    });
    fc.assert(
      fc.property(
        fc.array(point, { minLength: 1, maxLength: 12 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (trials, share) => {
          const { proved } = lightingRegions(trials, setting);
          const lit = trials.filter((trial) => trial.lit);
          const failed = trials.filter((trial) => !trial.lit);
          for (const piece of proved)
            piece.forEach((corner, i) => {
              const opposite = piece[(i + Math.ceil(piece.length / 2)) % piece.length]!;
              const p = corner[0] + share * (opposite[0] - corner[0]);
              const d = corner[1] + share * (opposite[1] - corner[1]);
              // Supporting lines in 36 directions: a place beyond one is outside the hull.
              for (let a = 0; a < 36; a += 1) {
                const [ux, uy] = [Math.cos((a * Math.PI) / 18), Math.sin((a * Math.PI) / 18)];
                const most = Math.max(...lit.map((trial) => ux * trial.pressure + uy * trial.delayS));
                expect(ux * p + uy * d).toBeLessThanOrEqual(most + 1e-9);
              }
              for (const { pressure, delayS } of failed) {
                const out = pressure - setting.pressure;
                const isAt = Math.abs(out) <= setting.tolerance;
                const isFarther = out > 0 ? p > pressure + 1e-9 : p < pressure - 1e-9;
                expect(d > delayS + 1e-9 && (isAt || isFarther)).toBe(false);
              }
            });
        },
      ),
      { numRuns: 300, seed: 5 },
    );
  });
});
