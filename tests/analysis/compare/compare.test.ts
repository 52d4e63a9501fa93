import { describe, expect, it } from 'vitest';
import { compare } from '../../../shared/analysis/compare/compare.ts';
import { type ComparisonResult, comparedQuantities } from '../../../shared/model/results/analysis-result.ts';
import type { Capture } from '../../../shared/model/capture.ts';
import { drawSweep } from '../../benchmark/sweep/kinds.ts';
import { captureOf, simulateSweep } from '../../benchmark/sweep/simulate.ts';
import { truthOf } from '../../benchmark/sweep/truth.ts';
import { holds, shoulderFall, widthOf } from '../interval-width.ts';

const { facts } = drawSweep('two shoulders', 12);
const sweepOf = (changed: Partial<typeof facts>, seed: number) =>
  captureOf(simulateSweep({ ...facts, ...changed }, seed).readings, {});
const compared = (before: Capture, after: Capture): ComparisonResult => {
  const outcome = compare(before, after);
  if (!outcome.ok) throw new Error(outcome.fault.message);
  return outcome.value.result;
};
const moved = (by: number) => ({ curve: { ...facts.curve, low: facts.curve.low + by } });

describe('two sweeps compared', () => {
  it('finds a low end that moved by a tenth of an inch, reports it, and its interval holds the true change', () => {
    const found = compared(sweepOf({}, 1), sweepOf(moved(0.1), 2));
    expect(found.lowEdge.significant).toBe(true);
    expect(holds(found.lowEdge.ci!, 0.1)).toBe(true);
    expect(widthOf(found.lowEdge.ci!)).toBeLessThan(shoulderFall(facts.curve.lowWidth));
    expect(found.highEdge.significant).toBe(false);
    expect(widthOf(found.highEdge.ci!)).toBeLessThan(shoulderFall(facts.curve.highWidth));
    const by = found.lowEdge.change!.toFixed(2);
    expect(found.summary).toContain(`The low end has moved up by ${by} inH2O.`);
  });

  it('a change is significant exactly when its interval leaves out zero', () => {
    const found = compared(sweepOf({}, 5), sweepOf(moved(0.03), 6));
    for (const name of comparedQuantities) {
      const { ci, significant } = found[name];
      // Both sweeps reach both ends, so that every quantity is compared.
      expect([name, significant]).toEqual([name, ci![0] > 0 || ci![1] < 0]);
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
    expect(found.summary).toContain(
      'The scatter cannot be compared: in one of the sweeps the signal is cut off at its top.',
    );
  });

  // Shown in steps of 0.05 V, a scatter of 0.012 V comes out as none, one step or anything between.
  const digit = 0.05;
  const coarse = { digits: { pressure: 0.01, signal: digit }, white: 0.012 };

  it.each([21, 23, 25, 27])('does not take the steps of a coarse meter for a change of scatter, seed %i', (seed) => {
    const { noise } = compared(sweepOf(coarse, seed), sweepOf(coarse, seed + 1));
    expect(noise.significant).toBe(false);
    // The median deviation is known to half a step in each visit, a rectangle of one step. Joined: 1.4826 x step / sqrt(12) x
    // sqrt(2), times 2.63, the normal quantile of the sixth root of 95 %: 0.080 V either way. Half as much again for the
    // readings.
    expect(widthOf(noise.ci!)).toBeLessThan(2 * 1.5 * 0.08);
  });

  it('finds a change of scatter by several steps of a coarse meter', () => {
    const { noise } = compared(sweepOf(coarse, 29), sweepOf({ ...coarse, white: 0.4 }, 30));
    expect(noise.significant).toBe(true);
    expect(noise.change).toBeGreaterThan(4 * digit);
  });

  it('judges the old setting by the signal window alone: neither the maker’s range nor a failed trial of today counts', () => {
    const { low, high } = truthOf(facts.curve, facts.tested, {});
    const old = high! - 0.4 * (high! - low!);
    const asLeftPressure = { value: old, unit: 'inH2O' as const };
    const before = { ...sweepOf({}, 1), setup: { asLeftPressure } };
    const later = sweepOf({}, 2);
    const narrowed: Capture = {
      ...later,
      setup: { makerPressureRange: { low: low! + 0.1, high: old - 0.3, unit: 'inH2O' } },
      trials: [
        { pressure: old - 0.5, unit: 'inH2O', sparkDelayS: 0, lit: true },
        { pressure: old - 0.1, unit: 'inH2O', sparkDelayS: 0, lit: false },
      ],
    };
    const bySignal = compared(before, later);
    const found = compared(before, narrowed);
    // By definition: two fifths of the true window from its high end, the steady signal is good.
    expect(found.oldSetPoint?.decision).toBe('pass');
    expect(found.oldSetPoint).toEqual(bySignal.oldSetPoint);
    // Margins reach to the guarded ends, off the true ones by their expanded uncertainty: less than a shoulder is wide.
    const { marginLow, marginHigh } = found.oldSetPoint!;
    expect(Math.abs(old - low! - marginLow)).toBeLessThan(shoulderFall(facts.curve.lowWidth));
    expect(Math.abs(high! - old - marginHigh)).toBeLessThan(shoulderFall(facts.curve.highWidth));
    expect(found.summary.at(-1)).toMatch(/signal window/u);
    expect(found.summary.join(' ')).not.toMatch(/today's window/u);
  });

  it('fails an old setting whose signal is bad today, whatever else is known', () => {
    const { high } = truthOf(facts.curve, facts.tested, {});
    const before = { ...sweepOf({}, 1), setup: { asLeftPressure: { value: high! + 0.2, unit: 'inH2O' as const } } };
    expect(compared(before, sweepOf({}, 2)).oldSetPoint?.decision).toBe('fail');
  });

  it('says nothing of an old setting to which a later sweep without that end did not go', () => {
    const { low } = truthOf(facts.curve, facts.tested, {});
    const old = low! + 1.5;
    const before = { ...sweepOf({}, 1), setup: { asLeftPressure: { value: old, unit: 'inH2O' as const } } };
    const found = compared(before, sweepOf({ tested: [facts.tested[0], low! + 1] }, 2));
    expect(found.oldSetPoint).toBeUndefined();
    expect(found.warnings.map(({ code }) => code)).toContain('old-setting-not-tested');
  });

  it('refuses signals of different kinds', () => {
    const other = sweepOf({}, 9);
    const amps = other.readings.map((r) => (r.role === 'flame_signal' ? { ...r, unit: 'uA' as const } : r));
    const outcome = compare(sweepOf({}, 10), { ...other, readings: amps });
    expect(outcome).toMatchObject({ ok: false, fault: { code: 'units-differ' } });
  });
});
