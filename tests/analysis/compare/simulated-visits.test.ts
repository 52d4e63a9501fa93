import { describe, expect, it } from 'vitest';
import { compare } from '../../../shared/analysis/compare/compare.ts';
import { simulateVisit } from '../../../shared/practice/simulate.ts';

describe('comparing two sweeps', () => {
  it('finds what was changed, in its direction, and says whether the old setting still holds', () => {
    const outcome = compare(simulateVisit('clean', 1).capture, simulateVisit('next-year', 2).capture);
    if (!outcome.ok) throw new Error(outcome.fault.message);
    const { result } = outcome.value;
    expect(result.lowEdge.significant && result.lowEdge.change! > 0).toBe(true);
    expect(result.highEdge.significant && result.highEdge.change! < 0).toBe(true);
    expect(result.plateau.significant && result.plateau.change! < 0).toBe(true);
    expect(result.oldSetPoint?.decision).toBe('pass');
  });

  it('calls nothing changed in nearly all pairs of sweeps of the same burner', () => {
    let alarms = 0;
    const pairs = 12;
    for (let seed = 0; seed < pairs; seed += 1) {
      const outcome = compare(simulateVisit('clean', 100 + seed).capture, simulateVisit('clean', 200 + seed).capture);
      if (!outcome.ok) throw new Error(outcome.fault.message);
      const { lowEdge, highEdge, plateau, windowWidth, noise, lag } = outcome.value.result;
      if ([lowEdge, highEdge, plateau, windowWidth, noise, lag].some((change) => change.significant)) alarms += 1;
    }
    // At most 5 % each: more than 3 of 12 would happen about once in five thousand runs (binomial).
    expect(alarms).toBeLessThanOrEqual(3);
  }, 180_000);
});
