import { describe, expect, it } from 'vitest';
import { exactEstimate } from '../../../../shared/analysis/curve/estimate.ts';
import type { CurveEnds } from '../../../../shared/analysis/window/ends/curve-ends.ts';
import {
  highestLevelBias,
  withPlateauBias,
  withRequiredBias,
} from '../../../../shared/analysis/window/ends/highest-level.ts';
import { createRandom } from '../../../../shared/numerics/random.ts';

const count = 4000;
const pressure = Float64Array.from({ length: 40 }, (_, i) => 1 + i / 10);

const crossing = (value: number) => ({ value, bounded: true, flameLost: false, slope: 1 });
/** A level curve of 5 V between two ends. */
const levelCurve = (low: number, high: number): CurveEnds => ({
  plateau: 5,
  top: 2,
  required: 4.5,
  low: crossing(low),
  high: crossing(high),
});
const drawn = (deviationAt: (p: number, i: number) => () => number) =>
  Array.from(pressure, (p, i) => {
    const deviation = deviationAt(p, i);
    return Float64Array.from({ length: count }, () => 5 + deviation());
  });

describe('the bias of a highest level', () => {
  it('is that of the highest of twenty independent levels, where twenty lie between the ends', () => {
    const random = createRandom(1);
    // From 1.95 to 3.95: twenty of the pressures. What lies outside scatters ten times as much and says nothing of the plateau.
    const levels = drawn((p) => () => (p > 1.95 && p < 3.95 ? 0.1 : 1) * random.normal());
    // The median of the highest of n normal numbers is the normal quantile of 0.5^(1/n): 1.818 for twenty. Its standard error with
    // 4000 draws is 0.5 / (density 0.70 x sqrt(4000)) = 0.011.
    expect(highestLevelBias(levelCurve(1.95, 3.95), pressure, levels) / 0.1).toBeGreaterThan(1.818 - 0.04);
    expect(highestLevelBias(levelCurve(1.95, 3.95), pressure, levels) / 0.1).toBeLessThan(1.818 + 0.04);
  });

  it('is none where noise moves the whole plateau alike, and where there are no ends', () => {
    const random = createRandom(2);
    const alike = Float64Array.from({ length: count }, () => 0.1 * random.normal());
    const levels = drawn(() => {
      let b = 0;
      return () => alike[b++]!;
    });
    // The median of the draws themselves scatters by 1.25 x 0.1 / sqrt(4000) = 0.002.
    expect(highestLevelBias(levelCurve(1.95, 3.95), pressure, levels)).toBeLessThan(0.008);
    expect(highestLevelBias({ ...levelCurve(1, 2), low: undefined, high: undefined }, pressure, levels)).toBe(0);
  });
});

describe('what the bias leaves open, by hand', () => {
  const estimate = (value: number, ci: [number, number]) => ({ ...exactEstimate(value), ci });
  // Rises by 10 V per inH2O up to 5 V at 1.5, falls by 5 V per inH2O from 4 on.
  const at = Float64Array.from({ length: 41 }, (_, i) => 1 + i / 10);
  const curve = { pressure: at, signal: at.map((p) => Math.min(10 * (p - 1), 5, 5 - 5 * (p - 4))) };

  it('lets the plateau be lower, not higher', () => {
    expect(withPlateauBias(estimate(5, [4.9, 5.1]), 0.05).ci).toEqual([4.9 - 0.05, 5.1]);
  });

  it('lets either end lie as much farther out as the curve needs to fall by it', () => {
    // 4.5 V is passed at 1.45 and 4.1; 0.2 V less is passed 0.02 and 0.04 farther out.
    const low = withRequiredBias(estimate(1.45, [1.4, 1.5]), 'low', curve, 4.5, 0.2);
    expect(low.ci[0]).toBeCloseTo(1.38, 12);
    expect(low.ci[1]).toBe(1.5);
    const high = withRequiredBias(estimate(4.1, [4, 4.2]), 'high', curve, 4.5, 0.2);
    expect(high.ci[0]).toBe(4);
    expect(high.ci[1]).toBeCloseTo(4.24, 12);
  });

  it('goes past several points of the curve, and ends with it', () => {
    const far = withRequiredBias(estimate(4.1, [4, 4.2]), 'high', curve, 4.5, 2);
    expect(far.ci[1]).toBeCloseTo(4.6, 12);
    const last = withRequiredBias(estimate(4.1, [4, 4.2]), 'high', curve, 4.5, 100);
    expect(last.ci[1]).toBeCloseTo(4.2 + 0.9, 12);
  });

  it('is nothing without a bias', () => {
    const end = estimate(4.1, [4, 4.2]);
    expect(withRequiredBias(end, 'high', curve, 4.5, 0)).toEqual(end);
  });
});
