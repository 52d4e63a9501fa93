import { describe, expect, it } from 'vitest';
import { freeSignalInterval } from '../../../shared/analysis/window/free-curve.ts';
import { study } from '../../../shared/analysis/study.ts';
import { drawSweep, type Kind } from '../../benchmark/sweep/kinds.ts';

const kinds: Kind[] = ['two shoulders', 'noisy', 'fast', 'uneven shoulders'];
const seeds = [1, 2, 3];

describe('the free curve, where no model follows', () => {
  it('holds plateau and ends of smooth sweeps, whose truth is known, in most of its 95 % intervals', () => {
    const held = { low: 0, high: 0, plateau: 0 };
    for (const kind of kinds)
      for (const seed of seeds) {
        const { capture, truth } = drawSweep(kind, seed);
        const studied = study(capture, capture.setup);
        if (!studied.ok) throw new Error(studied.fault.code);
        const { pairs, tested } = studied.value;
        const found = freeSignalInterval({
          ...pairs,
          tested,
          dropFraction: 0.1,
          minimum: undefined,
          confidence: 0.95,
          blockS: 5,
          degrees: 5,
          seed: 1,
        });
        const holds = (ci: readonly number[], value: number) => Number(ci[0]! <= value && value <= ci[1]!);
        held.low += holds(found.low!.ci, truth.low!);
        held.high += holds(found.high!.ci, truth.high!);
        held.plateau += holds(found.plateau.ci, truth.plateau);
        // It only rises, then only falls.
        const { signal } = found.curve;
        const turns = signal.findIndex((level, i) => i > 0 && level < signal[i - 1]! - 1e-12);
        expect(signal.slice(turns).every((level, i, all) => i === 0 || level <= all[i - 1]! + 1e-12)).toBe(true);
      }
    // Nine of twelve: fewer has a chance of 1 in 450 when 95 in 100 hold (binomial).
    for (const count of Object.values(held)) expect(count).toBeGreaterThanOrEqual(9);
  });
});
