import { describe, expect, it } from 'vitest';
import { decide, findSetPoint, shareBetween, splitEvenly } from '../../../shared/analysis/window/set-point.ts';

describe('set point and decision', () => {
  it('splits evenly in pressure, in flow above the fan-only pressure, or in ratio', () => {
    expect(splitEvenly('equal-pressure', 1, 4, 0)).toBe(2.5);
    // Orifice law: flow goes as the root, so half way between roots 1 and 2 is 1.5 squared.
    expect(splitEvenly('equal-flow', 1, 4, 0)).toBeCloseTo(2.25, 12);
    expect(splitEvenly('equal-flow', 1.2, 4.2, 0.2)).toBeCloseTo(2.45, 12);
    expect(splitEvenly('equal-ratio', 1, 4, 0)).toBeCloseTo(2, 12);
  });
  it('tells where a pressure lies in the measure of the rule: an even split is in the middle by each', () => {
    for (const rule of ['equal-pressure', 'equal-flow', 'equal-ratio'] as const)
      expect(shareBetween(rule, 1.2, 4.2, splitEvenly(rule, 1.2, 4.2, 0.2), 0.2)).toBeCloseTo(0.5, 12);
    // Roots of 1, 2.25 and 4 above the fan-only pressure: 1, 1.5 and 2. Logarithms of 1, 2 and 8: a third.
    expect(shareBetween('equal-flow', 1.2, 4.2, 2.45, 0.2)).toBeCloseTo(0.5, 12);
    expect(shareBetween('equal-ratio', 1, 8, 2, 0)).toBeCloseTo(1 / 3, 12);
    expect(shareBetween('equal-pressure', 1, 4, 3.25, 0)).toBeCloseTo(0.75, 12);
  });
  it('decides in the four ways of ILAC-G8:09/2019 with guard band', () => {
    const low = { value: 1, ci: [1, 1] as [number, number], guarded: 1.1, cause: 'signal' as const };
    const high = { value: 4, ci: [4, 4] as [number, number], guarded: 3.9, cause: 'signal' as const };
    expect([2, 1.05, 0.95, 0.5, 3.95, 4.05, 5].map((value) => decide(value, low, high))).toEqual([
      'pass',
      'conditional-pass',
      'conditional-fail',
      'fail',
      'conditional-pass',
      'conditional-fail',
      'fail',
    ]);
  });
});

describe('a set point', () => {
  const end = (value: number, guarded: number) => ({ value, guarded, ci: [value, value], cause: 'signal' }) as const;

  it('is not given where the guarded ends leave nothing between them', () => {
    const [low, high] = [end(1, 2.5), end(4, 2.5)];
    expect(
      findSetPoint({ ...low, ci: [1, 1] }, { ...high, ci: [4, 4] }, 'equal-pressure', 0, undefined),
    ).toBeUndefined();
  });
});
