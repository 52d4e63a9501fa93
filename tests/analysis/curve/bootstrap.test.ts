import { describe, expect, it } from 'vitest';
import { correlatedMultipliers, runsOf } from '../../../shared/analysis/curve/bootstrap.ts';
import { createRandom } from '../../../shared/numerics/random.ts';

const blockS = 2;
/** Five readings a second for 20 s, a gap of 5 s in the middle. */
const times = Float64Array.from({ length: 101 }, (_, k) => k / 5 + (k > 50 ? 5 : 0));

describe('runs of readings', () => {
  it('last no longer than asked for, in order and without a gap between their numbers', () => {
    const { runOf, middles } = runsOf(times, 0.5);
    expect(runOf[0]).toBe(0);
    times.slice(1).forEach((t, k) => {
      const step = runOf[k + 1]! - runOf[k]!;
      expect(step === 0 || step === 1).toBe(true);
      const first = times[runOf.indexOf(runOf[k + 1]!)]!;
      expect(t - first).toBeLessThan(0.5);
      expect(Math.abs(middles[runOf[k + 1]!]! - t)).toBeLessThanOrEqual(0.25);
    });
    expect(runOf.at(-1)).toBe(middles.length - 1);
    expect(runOf[51]! - runOf[50]!).toBe(1);
  });
  it('are single readings where those are further apart', () => {
    expect(runsOf(Float64Array.of(0, 3, 6), 0.5)).toEqual({
      runOf: Int32Array.of(0, 1, 2),
      middles: Float64Array.of(0, 3, 6),
    });
  });
});

describe('one multiplier for a run of a quarter of a block', () => {
  it('gives sums the variance that an exponential correlation of the block has by its definition', () => {
    // Fixed residuals of alternating blocks: what is close together adds up, what is further apart cancels.
    const residual = times.map((t) => Math.sin(t * 1.3) + 0.5 * Math.cos(t * 5));
    let wanted = 0;
    for (let i = 0; i < times.length; i += 1)
      for (let j = 0; j < times.length; j += 1)
        wanted += residual[i]! * residual[j]! * Math.exp(-Math.abs(times[i]! - times[j]!) / blockS);
    const { runOf, middles } = runsOf(times, blockS / 4);
    const draw = correlatedMultipliers(middles, blockS, createRandom(1));
    const multipliers = new Float64Array(middles.length);
    const draws = 20_000;
    let found = 0;
    for (let n = 0; n < draws; n += 1) {
      draw(multipliers);
      const sum = residual.reduce((total, value, k) => total + value * multipliers[runOf[k]!]!, 0);
      found += sum ** 2 / draws;
    }
    // Twenty thousand draws tell a variance within 2 % (two standard errors).
    expect(Math.abs(found / wanted - 1)).toBeLessThan(0.05);
  });
});
