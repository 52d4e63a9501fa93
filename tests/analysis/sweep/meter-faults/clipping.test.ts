import { describe, expect, it } from 'vitest';
import { cutAtTop } from '../../../../shared/analysis/sweep/meter-faults/clipping.ts';
import { createRandom } from '../../../../shared/numerics/random.ts';

const seeds = Array.from({ length: 20 }, (_, i) => i + 1);
/** 500 readings of a meter of two decimals, five a second. */
const shown = (seed: number, level: (t: number, normal: number) => number) => {
  const random = createRandom(seed);
  const time = Float64Array.from({ length: 500 }, (_, i) => i / 5);
  return { time, value: time.map((t) => Math.round(100 * level(t, random.normal())) / 100) };
};

describe('noise that is cut off at the top', () => {
  // A flame whose signal would be 3.2 V, give or take its flicker, behind an amplifier that ends at 3.19 V.
  it.each([0.015, 0.02, 0.04])(
    'is known where the top is shown most often and a tail hangs below it: flicker %d V',
    (flicker) => {
      for (const seed of seeds)
        expect(cutAtTop(shown(seed, (_, normal) => Math.min(3.19, 3.2 + flicker * normal)))).toBe(true);
    },
  );
  it.each([0.0005, 0.002, 0.005, 0.01, 0.03])(
    'is none where it goes above as far as below: flicker %d V',
    (flicker) => {
      for (const seed of seeds)
        for (const level of [3.19, 3.1925, 3.195, 3.1975])
          expect(cutAtTop(shown(seed, (_, normal) => level + flicker * normal))).toBe(false);
    },
  );
  // A parabola from 3.19 V down to 2.4 V at both sides, turned through evenly.
  it.each([0.0005, 0.005, 0.02])('is none at the top of a round hump: flicker %d V', (flicker) => {
    for (const seed of seeds)
      expect(cutAtTop(shown(seed, (t, normal) => 3.19 - 0.8 * (t / 50 - 1) ** 2 + flicker * normal))).toBe(false);
  });
});
