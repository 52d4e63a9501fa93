import { describe, expect, it } from 'vitest';
import { analyze } from '../../../../shared/analysis/analyze.ts';
import { createRandom } from '../../../../shared/numerics/random.ts';
import { sweepWith } from '../../synthetic-sweep.ts';

const codes = (capture: Parameters<typeof analyze>[0]) => {
  const outcome = analyze(capture);
  if (!outcome.ok) throw new Error(outcome.fault.message);
  return outcome.value.result.warnings.map(({ code }) => code);
};

describe('a fast step of the regulator', () => {
  it('to where a flame may still be is not taken for shut gas', () => {
    // From 4 to 1 inH2O at once, as on a coarse staircase: more than half, but far from nothing.
    const random = createRandom(9);
    const stairs = sweepWith((p) => 4.6 / (1 + Math.exp((0.9 - p) / 0.08)) + 0.01 * random.normal(), {
      pressureAt: (t) => [1, 4, 1, 2.5, 0.6, 2.5, 4.4, 2.5][Math.floor(t / 20)]!,
      stepS: 0.25,
      lastS: 160,
      seed: 9,
    });
    expect(codes(stairs)).not.toContain('gas-shut');
  });
});
