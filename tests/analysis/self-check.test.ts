import { describe, expect, it } from 'vitest';
import { clean } from '../../shared/analysis/clean.ts';
import { findSelfCheck } from '../../shared/analysis/self-check.ts';
import { collectSweep } from '../../shared/analysis/series.ts';
import { simulateVisit } from '../../shared/practice/simulate.ts';
import { drawSweep } from '../bench/sweep/kinds.ts';

const seeds = [1, 2, 3, 4, 5, 6];
const signalOf = (scenario: string, seed: number) => {
  const sweep = collectSweep(simulateVisit(scenario, seed).capture);
  if (!sweep.ok) throw new Error(sweep.fault.code);
  return sweep.value;
};

describe('a detector that tests itself', () => {
  // The practice detector closes its shutter every 12 s for 0.5 s, behind a lag of 0.35 s that smears the pulses.
  it.each(seeds)('is recognised by its rhythm though its lag smears the pulses, seed %i', (seed) => {
    const { signal } = signalOf('self-check', seed);
    const { found, keep } = findSelfCheck(signal)!;
    expect(Math.abs(found.periodS - 12)).toBeLessThan(0.05);
    expect(found.pulses).toBeGreaterThan(8);
    // What is kept falls nowhere by a quarter from one reading to the next, save between two sweeps.
    const kept = Array.from(signal.time, (time, i) => ({ time, value: signal.value[i]! })).filter(
      (_, i) => keep[i] === 1,
    );
    const jumps = kept.slice(1).filter(({ time, value }, i) => {
      const before = kept[i]!;
      return before.value > 3 && value < 0.75 * before.value && time - before.time < 5;
    });
    expect(jumps.length).toBe(0);
  });

  it.each(seeds)('is told to a hundredth of its period by a drawn sweep, seed %i', (seed) => {
    const drawn = drawSweep('self-check', seed);
    const sweep = collectSweep(drawn.capture);
    const found = sweep.ok ? findSelfCheck(sweep.value.signal)?.found : undefined;
    const { periodS } = drawn.facts.selfCheck!;
    expect(Math.abs(found!.periodS - periodS)).toBeLessThan(0.01 * periodS);
  });

  it.each(['clean', 'noisy', 'flame-lost', 'flooded', 'saturated'])(
    'is not seen where there is none: %s',
    (scenario) => {
      for (const seed of seeds) {
        const sweep = signalOf(scenario, seed);
        expect(clean(sweep.pressure, sweep.signal).selfCheck).toBeUndefined();
      }
    },
  );
});
