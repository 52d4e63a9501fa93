import { describe, expect, it } from 'vitest';
import { analyze } from '../../shared/analysis/analyze.ts';
import { decideWithoutWindow } from '../../shared/analysis/as-left.ts';
import type { Setup } from '../../shared/model/setup.ts';
import { createRandom } from '../../shared/numerics/random.ts';
import { decisionSentence } from '../../shared/report/labels.ts';
import { sweepWith, twoShoulders } from './synthetic-sweep.ts';

/** A sweep from 0.5 to 5 inH2O over shoulders at 1 and 4 inH2O, plateau 4.6 V. */
const random = createRandom(5);
const capture = sweepWith((pressure) => twoShoulders(pressure) + 0.02 * random.normal());
const leftAt = (value: number, setup: Setup) => {
  const analyzed = analyze(capture, { ...setup, asLeftPressure: { value, unit: 'inH2O' } });
  if (!analyzed.ok) throw new Error(analyzed.fault.code);
  return analyzed.value.result;
};

describe('the pressure as left, where there is no window', () => {
  it('fails where the signal reaches what is required at no tested pressure', () => {
    const { asLeft, window, lightOff } = leftAt(2.5, { minimumSignal: { value: 5, unit: 'V' } });
    expect(window).toEqual({ status: 'none' });
    expect(asLeft).toEqual({ value: 2.5, decision: 'fail', limitedBy: ['signal'] });
    expect(decisionSentence(asLeft!, lightOff)).toBe(
      'There is no window. At this pressure: flame signal below the required signal.',
    );
  });

  it('has no decision far from every tested pressure', () => {
    expect(leftAt(7, { minimumSignal: { value: 5, unit: 'V' } })).not.toHaveProperty('asLeft');
  });

  it("fails on either side of the gap between a maker's range and the signal", () => {
    const makerPressureRange = { low: 4.6, high: 6, unit: 'inH2O' as const };
    const setup: Setup = { minimumSignal: { value: 2.3, unit: 'V' }, makerPressureRange };
    expect(leftAt(2.5, setup).asLeft).toEqual({ value: 2.5, decision: 'fail', limitedBy: ['maker-range'] });
    expect(leftAt(4.8, setup).asLeft).toEqual({ value: 4.8, decision: 'fail', limitedBy: ['signal'] });
    // Between both neither is met.
    expect(leftAt(4.3, setup).asLeft).toEqual({
      value: 4.3,
      decision: 'fail',
      limitedBy: expect.arrayContaining(['signal', 'maker-range']) as string[],
    });
  });

  it('fails on condition only where the plateau may reach what is required', () => {
    const required = { value: 1.25, basis: 'minimum-signal' as const };
    const plateau = (low: number, high: number) => ({ ci: [low, high] as [number, number] });
    const decided = (low: number, high: number) =>
      decideWithoutWindow(2, { evidence: [] }, { plateau: plateau(low, high), required }, [1, 3])?.decision;
    expect(decided(1.1, 1.3)).toBe('conditional-fail');
    expect(decided(1.1, 1.2)).toBe('fail');
  });
});
