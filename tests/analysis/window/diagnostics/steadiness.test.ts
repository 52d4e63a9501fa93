import { describe, expect, it } from 'vitest';
import { findUnsteady } from '../../../../shared/analysis/window/diagnostics/steadiness.ts';
import { createRandom } from '../../../../shared/numerics/random.ts';

/** Residuals that scatter ten times as much below one pressure; readings at random pressures between 1 and 4. */
function unsteadyBelow(onset: number, seed: number, readings = 600, isSilent = (_: number): boolean => false) {
  const random = createRandom(seed);
  const drawn = Array.from({ length: readings }, () => 1 + 3 * random.uniform()).filter((p) => !isSilent(p));
  const residual = drawn.map((p) => (p < onset ? 1 : 0.1) * random.normal());
  return findUnsteady(Float64Array.from(drawn), Float64Array.from(residual), [1, 4], 4.5).ends;
}

describe('the end of the steady signal', () => {
  it('has an interval that holds where the scatter begins, two slices wide at most', () => {
    const random = createRandom(7);
    const held = Array.from({ length: 200 }, (_, i) => {
      const onset = 1.5 + random.uniform();
      const [end] = unsteadyBelow(onset, 100 + i);
      expect(end!.ci[1] - end!.ci[0]).toBeLessThanOrEqual((2 * 3) / 16);
      expect(end!.value).toBeGreaterThanOrEqual(end!.ci[0]);
      expect(end!.value).toBeLessThanOrEqual(end!.ci[1]);
      return end!.ci[0] <= onset && onset <= end!.ci[1];
    });
    // 181 of 200: fewer has a chance of 1 in 200 when 95 in 100 hold (binomial).
    expect(held.filter(Boolean).length).toBeGreaterThanOrEqual(181);
  });

  it('reaches over slices of which no reading tells whether they are steady', () => {
    const [end] = unsteadyBelow(1.9, 5, 600, (p) => p > 1.9 && p < 2.5);
    expect(end!.ci[1]).toBeGreaterThanOrEqual(2.4);
  });
});
