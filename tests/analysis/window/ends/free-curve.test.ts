import { describe, expect, it } from 'vitest';
import { study } from '../../../../shared/analysis/study.ts';
import { freeSignalInterval } from '../../../../shared/analysis/window/ends/free-curve.ts';
import { drawSweep, type Kind } from '../../../benchmark/sweep/kinds.ts';
import { holds, shoulderFall, widthOf } from '../../interval-width.ts';

const kinds: Kind[] = ['two shoulders', 'noisy', 'fast', 'uneven shoulders'];

describe('the free curve, where no model follows', () => {
  const sweeps = kinds.flatMap((kind) =>
    [1, 2, 3].map((seed) => {
      const { capture, truth, facts } = drawSweep(kind, seed);
      const studied = study(capture, capture.setup);
      if (!studied.ok) throw new Error(studied.fault.code);
      const { pairs, tested } = studied.value;
      const found = freeSignalInterval({
        ...pairs,
        tested,
        lossesAt: [],
        dropFraction: 0.1,
        minimum: undefined,
        confidence: 0.95,
        blockS: 5,
        degrees: 5,
        seed: 1,
      });
      return { found, truth, facts };
    }),
  );

  it('holds plateau and ends of smooth sweeps, whose truth is known, in most of its 95 % intervals', () => {
    const held = (of: (sweep: (typeof sweeps)[number]) => boolean) => sweeps.filter(of).length;
    // Nine of twelve: fewer has a chance of 1 in 450 when 95 in 100 hold (binomial).
    expect(held(({ found, truth }) => holds(found.low!.ci, truth.low!))).toBeGreaterThanOrEqual(9);
    expect(held(({ found, truth }) => holds(found.high!.ci, truth.high!))).toBeGreaterThanOrEqual(9);
    expect(held(({ found, truth }) => holds(found.plateau.ci, truth.plateau))).toBeGreaterThanOrEqual(9);
  });

  it('has intervals that are no wider than shoulder and noise make them', () => {
    for (const { found, facts, truth } of sweeps) {
      expect(widthOf(found.low!.ci)).toBeLessThan(shoulderFall(facts.curve.lowWidth));
      expect(widthOf(found.high!.ci)).toBeLessThan(shoulderFall(facts.curve.highWidth));
      // The mean of many readings is better known than one of them: two deviations of the white noise either way, and a percent
      // of the level for the highest of many slices.
      expect(widthOf(found.plateau.ci)).toBeLessThan(4 * facts.white + 0.01 * truth.plateau);
    }
  });

  it('only rises, then only falls', () => {
    for (const { found } of sweeps) {
      const { signal } = found.curve;
      const turn = signal.findIndex((level, i) => i > 0 && level < signal[i - 1]! - 1e-12);
      expect(turn).toBeGreaterThan(0);
      expect(signal.slice(turn).every((level, i, all) => i === 0 || level <= all[i - 1]! + 1e-12)).toBe(true);
    }
  });
});
