import { describe, expect, it } from 'vitest';
import { study } from '../../../shared/analysis/study.ts';
import { drawWildSweep } from '../../benchmark/wild/kinds.ts';

/** Sweeps of a kind with what is found of them and the truth from the definition of their curve. */
const studied = (kind: string, count = 8) =>
  Array.from({ length: count }, (_, i) => {
    const seed = 1 + i;
    const { capture, truth } = drawWildSweep(kind, seed);
    const found = study(capture, capture.setup);
    if (!found.ok) throw new Error(found.fault.message);
    const { curve, interval } = found.value;
    const ends = (['low', 'high'] as const).map((side) => ({ ...interval[side]!, truth: truth[side]! }));
    return { shape: curve.shape, interval, ends };
  });

describe('a curve that the model does not have', () => {
  const sweeps = studied('curve: arc tangent');

  it('is followed by a discrepancy of the size that the readings suggest', () => {
    for (const { shape } of sweeps) expect(shape.discrepancy?.size).toBeGreaterThan(0);
  });

  it('has ends that are held, by intervals that are no wider than its shoulder', () => {
    const ends = sweeps.flatMap((sweep) => sweep.ends);
    // 5 % each may miss; more than 3 of 16 would happen about once in a hundred and forty times (binomial).
    expect(ends.filter(({ ci, truth }) => truth < ci[0] || truth > ci[1]).length).toBeLessThanOrEqual(3);
    // From 90 % to 50 % an arc tangent takes tan(0.4 pi) = 3.1 of its widths; the widest is 0.07 inH2O.
    for (const { ci } of ends) expect(ci[1] - ci[0]).toBeLessThan(3.1 * 0.07);
  });
});

describe('a curve of the model', () => {
  it('is left as it is in nearly all sweeps', () => {
    expect(studied('curve: logistic').filter(({ shape }) => shape.discrepancy).length).toBeLessThanOrEqual(1);
  });
});

describe('a plateau that is cut off', () => {
  it.each(['an amplifier cut off at half', 'a meter at the end of its range at half'])('%s: no discrepancy', (kind) => {
    for (const { shape } of studied(kind, 3)) expect(shape.discrepancy).toBeUndefined();
  });
});
