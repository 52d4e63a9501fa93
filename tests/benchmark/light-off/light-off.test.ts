import { describe, expect, it } from 'vitest';
import { createRandom } from '../../../shared/numerics/random.ts';
import { provedBounds, wrongClaims } from './claims.ts';
import { burner, type DesignName, designs } from './designs.ts';
import { provedTo, run, type Tried } from './judge-visit.ts';
import { drawPilot } from './pilot.ts';

const at = (pressure: number, lit = true): Tried => ({ pressure, delayS: 0, lit });

describe('the definitions behind the benchmark of light-off trials', () => {
  it('prove out to the outermost pressure that lit with no failure at or inside it', () => {
    expect(provedTo([at(2.4), at(2.8), at(3.2), at(3.4, false), at(3.6)], 1)).toBeCloseTo(0.8, 12);
    expect(provedTo([at(2.4), at(2.8), at(3.2)], -1)).toBe(0);
    expect(provedTo([at(2.4), at(2), at(1.5, false)], -1)).toBeCloseTo(0.4, 12);
    expect(provedTo([at(2.4), at(3), at(2.45, false)], 1)).toBe(0);
  });

  it('draw pilots that light less and less outward, with a later spark no more often', () => {
    for (let seed = 1; seed <= 50; seed += 1) {
      const { lights, low, high } = drawPilot(createRandom(seed));
      for (let out = 0; out < 1; out += 0.1) {
        // What the other end takes away there is next to nothing.
        expect(lights(high + out + 0.1, 0)).toBeLessThanOrEqual(lights(high + out, 0) + 0.02);
        expect(lights(low - out - 0.1, 0)).toBeLessThanOrEqual(lights(low - out, 0) + 0.02);
        expect(lights(high + out, 5)).toBeLessThanOrEqual(lights(high + out, 0));
      }
      expect(lights(high + 1, 0)).toBeLessThan(0.01);
      for (const p of [0, 1, 2.4, 5]) expect(lights(p, 0) >= 0 && lights(p, 0) <= 1).toBe(true);
    }
  });

  it('keep every design inside the limits, and judge a visit the same each time', () => {
    for (const design of Object.keys(designs) as DesignName[]) {
      for (let seed = 1; seed <= 5; seed += 1) {
        const verdict = run({ design, seed });
        expect(verdict.beyond, design).toBe(false);
        expect(verdict.margin).toBeLessThanOrEqual(burner.high - burner.low + 1e-9);
      }
      expect(run({ design, seed: 3 })).toEqual(run({ design, seed: 3 }));
    }
  });

  it('count bounds that are true, and claims of a pilot that does not keep them', () => {
    expect(provedBounds(500, 1).share).toBeGreaterThan(0.93);
    // 0.8999 to the power of 22 is 0.098.
    expect(Math.abs(wrongClaims(2000, 1).share - 0.098)).toBeLessThan(0.03);
  });
});
