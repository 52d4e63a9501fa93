import { describe, expect, it } from 'vitest';
import { compare } from '../../../shared/analysis/compare/compare.ts';
import { type ComparisonResult, comparedQuantities } from '../../../shared/model/analysis-result.ts';
import type { Capture } from '../../../shared/model/capture.ts';
import { drawSweep } from '../../benchmark/sweep/kinds.ts';
import { captureOf, simulateSweep } from '../../benchmark/sweep/simulate.ts';

const { facts } = drawSweep('two shoulders', 12);
const sweepOf = (changed: Partial<typeof facts>, seed: number) =>
  captureOf(simulateSweep({ ...facts, ...changed }, seed).readings, {});
const compared = (before: Capture, after: Capture): ComparisonResult => {
  const found = compare(before, after);
  if (!found.ok) throw new Error(found.fault.message);
  return found.value.result;
};
const moved = (by: number) => ({ curve: { ...facts.curve, low: facts.curve.low + by } });

describe('two sweeps laid over each other', () => {
  it('finds a low end that moved by a tenth of an inch, says so, and its interval holds the true change', () => {
    const found = compared(sweepOf({}, 1), sweepOf(moved(0.1), 2));
    expect(found.lowEdge.significant).toBe(true);
    expect(found.lowEdge.ci![0]).toBeLessThan(0.1);
    expect(found.lowEdge.ci![1]).toBeGreaterThan(0.1);
    expect(found.highEdge.significant).toBe(false);
    expect(found.summary.join(' ')).toContain('The low end has moved up');
  });

  it('a change is significant exactly when its interval leaves out zero', () => {
    const found = compared(sweepOf({}, 5), sweepOf(moved(0.03), 6));
    for (const name of comparedQuantities) {
      const { ci, significant } = found[name];
      if (ci) expect([name, significant]).toEqual([name, ci[0] > 0 || ci[1] < 0]);
    }
  });

  it('gives null for an end that one sweep did not reach', () => {
    const short = sweepOf({ tested: [facts.tested[0], 2.8] }, 7);
    const found = compared(sweepOf({}, 8), short);
    expect(found.highEdge).toMatchObject({ after: null, change: null, ci: null, significant: false });
    expect(found.windowWidth.change).toBeNull();
  });

  it('compares no scatter where the amplifier cuts the signal off, and says so', () => {
    const { facts: cut } = drawSweep('clipped', 3);
    const visit = (seed: number) => captureOf(simulateSweep(cut, seed).readings);
    const found = compared(visit(11), visit(12));
    expect(found.noise).toMatchObject({ change: null, ci: null, significant: false });
    expect(found.summary.join(' ')).toContain('The scatter cannot be compared');
  });

  it('does not take the steps of a coarse meter for a change of scatter, but finds one of several steps', () => {
    const coarse = { digits: { pressure: 0.01, signal: 0.05 }, white: 0.012 };
    // Shown in steps of 0.05 V, a scatter of 0.012 V comes out as none, one step or anything between.
    for (const seed of [21, 23]) {
      const found = compared(sweepOf(coarse, seed), sweepOf(coarse, seed + 1));
      expect(found.noise.significant).toBe(false);
    }
    expect(compared(sweepOf(coarse, 29), sweepOf({ ...coarse, white: 0.4 }, 30)).noise.significant).toBe(true);
  });

  it('refuses signals of different kinds', () => {
    const other = sweepOf({}, 9);
    const amps = other.readings.map((r) => (r.role === 'flame_signal' ? { ...r, unit: 'uA' as const } : r));
    const found = compare(sweepOf({}, 10), { ...other, readings: amps });
    expect(found).toMatchObject({ ok: false, fault: { code: 'units-differ' } });
  });
});
