import { describe, expect, it } from 'vitest';
import { findDip } from '../../../../shared/analysis/window/diagnostics/dips.ts';
import { createRandom } from '../../../../shared/numerics/random.ts';

/** An invented plateau of 4.6 V between 1 and 4 inH2O with a dip of a given depth at 2 inH2O, noise of 0.02 V. */
function plateauWithDip(depth: number) {
  const random = createRandom(5);
  const pressure = Float64Array.from({ length: 600 }, (_, i) => 1 + (3 * i) / 600);
  const signal = pressure.map((p) => 4.6 * (1 - depth * Math.exp(-(((p - 2) / 0.15) ** 2))) + 0.02 * random.normal());
  return { pressure, signal };
}

describe('a dip between good pressures', () => {
  it('is found where the signal lies below what is required, and leaves the wider side', () => {
    const { pressure, signal } = plateauWithDip(0.2);
    const dip = findDip(pressure, signal, [1, 4], 4.14, 1)!;
    // 0.2 exp(-(x/0.15)^2) > 0.1 within 0.15 sqrt(ln 2) = 0.125 of 2.
    expect(dip.from).toBeGreaterThan(1.7);
    expect(dip.from).toBeLessThanOrEqual(2);
    expect(dip.to).toBeGreaterThanOrEqual(2);
    expect(dip.to).toBeLessThan(2.3);
    expect(dip.side).toBe('low');
    expect(dip.value).toBe(dip.to);
  });

  it('is none where the signal stays good', () => {
    const { pressure, signal } = plateauWithDip(0.05);
    expect(findDip(pressure, signal, [1, 4], 4.14, 1)).toBeUndefined();
  });

  it('is none at an end, where the signal only falls', () => {
    const pressure = Float64Array.from({ length: 300 }, (_, i) => 1 + i / 100);
    const signal = pressure.map((p) => (p < 1.3 ? 3 : 4.6));
    expect(findDip(pressure, signal, [1, 4], 4.14, 1)).toBeUndefined();
  });
});
