import { describe, expect, it } from 'vitest';
import { exactEstimate } from '../../../../shared/analysis/curve/estimate.ts';
import { withLeaving } from '../../../../shared/analysis/window/ends/end-uncertainty.ts';

const end = (value: number, ci: [number, number]) => ({ ...exactEstimate(value), ci });

describe('what an end is not known to, by hand', () => {
  it('reaches inward only, by what was turned in 0.3 s while the flame was leaving', () => {
    // 0.1 inH2O/s for 0.3 s: 0.03, which makes 0.05 of 0.04.
    const low = withLeaving(end(1, [0.96, 1.04]), 'low', 0.1);
    expect(low.ci[0]).toBe(0.96);
    expect(low.ci[1]).toBeCloseTo(1.05, 12);
    const high = withLeaving(end(4, [3.96, 4.04]), 'high', 0.1);
    expect(high.ci[0]).toBeCloseTo(3.95, 12);
    expect(high.ci[1]).toBe(4.04);
  });
});
