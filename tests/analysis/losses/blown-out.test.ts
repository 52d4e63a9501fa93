import { describe, expect, it } from 'vitest';
import type { AnalysisResult } from '../../../shared/model/results/analysis-result.ts';
import { answer } from '../answer.ts';
import { type Act, goodPilot, record, slowSweep, trueEnds } from '../burner-by-hand.ts';

/** A draft at rest, gas shut, lit again at the same setting, and from there up past the high end and back. */
const blownOut = (restsAgainS: number): Act[] => [
  { seconds: 20 },
  { seconds: 14, flame: 'out' },
  { seconds: 20, valve: 'shut' },
  { seconds: 1, valve: 'open' },
  { seconds: 3, spark: true },
  { seconds: restsAgainS },
  { seconds: 40, to: 4.4 },
  { seconds: 4 },
  { seconds: 40, to: 2.4 },
  { seconds: restsAgainS },
  { seconds: 20, valve: 'shut' },
];

/** Gas off, and lit again at the same setting. */
const relit: Act[] = [
  { seconds: 20, valve: 'shut' },
  { seconds: 1, valve: 'open' },
  { seconds: 3, spark: true },
  { seconds: 12 },
];

/** Both ends were swept with a flame: a draft has no part in them. */
function expectSweptEnds({ signalInterval }: AnalysisResult): void {
  for (const side of ['low', 'high'] as const) {
    const { value, ci } = signalInterval[side]!;
    expect(Math.abs(value - trueEnds(goodPilot)[side])).toBeLessThan(0.06);
    expect(ci[1] - ci[0]).toBeLessThan(0.5);
  }
}

describe('a flame that is blown out at the setting where it burned before and burns again', () => {
  it.each([1, 2, 3, 4])('ends no window there, and leaves the set point open, seed %i', (seed) => {
    const { result } = answer(record({ ...goodPilot, seed }, blownOut(12)));
    expect(result.signalInterval.status).toBe('open-low');
    expect(Math.abs(result.signalInterval.high!.value - trueEnds(goodPilot).high)).toBeLessThan(0.06);
    expect(result.setPoint!.provisional).toBe(true);
    expect(result.warnings.map(({ code }) => code)).toContain('flame-lost-in-good-signal');
  });

  it('is not taken for one that is put out by its pressure', () => {
    // Lost at 1.5 inH2O after a rest just above it, and back by itself at 1.7: it never held at the pressure of the loss.
    const lean = { ...goodPilot, lostBelow: 1.5, backAbove: 1.7 };
    const { result } = answer(
      record(lean, [
        { seconds: 10 },
        { seconds: 20, to: 1.6 },
        { seconds: 20 },
        { seconds: 6, to: 1.3 },
        { seconds: 6 },
        { seconds: 60, to: 4.4 },
        { seconds: 4 },
        { seconds: 40, to: 2.4 },
        { seconds: 10 },
      ]),
    );
    expect(result.window.low!.cause).toBe('flame-lost');
    expect(result.warnings.map(({ code }) => code)).not.toContain('flame-lost-in-good-signal');
  });

  it.each([0.5, 1, 2, 2.5, 3])(
    'leaves the set point open however slow the detector, lag %d s, where both ends were swept',
    (lagS) => {
      // Gas is shut four seconds after the draft: a signal with a lag of 2.5 s is at a fifth of the plateau by then.
      for (const seed of [1, 2]) {
        const { result } = answer(
          record({ ...goodPilot, seed, lagS }, [{ seconds: 30 }, { seconds: 4, flame: 'out' }, ...relit, ...slowSweep]),
        );
        expect(result.warnings.map(({ code }) => code)).toContain('flame-lost-in-good-signal');
        expect(result.setPoint?.provisional ?? true).toBe(true);
        expectSweptEnds(result);
      }
    },
  );

  it('has no part in the ends that were swept, though no turn lies between the light-off and the draft', () => {
    for (const seed of [1, 2, 3]) {
      const { result } = answer(
        record({ ...goodPilot, seed }, [
          { seconds: 10, valve: 'shut' },
          { seconds: 1, valve: 'open' },
          { seconds: 3, spark: true },
          { seconds: 40 },
          { seconds: 8, flame: 'out' },
          ...relit,
          ...slowSweep,
        ]),
      );
      expect(result.warnings.map(({ code }) => code)).toContain('flame-lost-in-good-signal');
      expectSweptEnds(result);
      for (const side of ['low', 'high'] as const) expect(result.window[side]!.cause).toBe('signal');
    }
  });
});
