import { describe, expect, it } from 'vitest';
import type { Capture } from '../../../shared/model/capture.ts';
import { answer } from '../answer.ts';
import { type Act, goodPilot, record } from '../burner-by-hand.ts';

/** Gas shut and lit again by a spark, when the flame has all of its signal: the trial at the setting. */
const shutAndLit: Act[] = [
  { seconds: 20, valve: 'shut' },
  { seconds: 0.02, valve: 'open', spark: true },
  { seconds: 4, spark: true },
  { seconds: 10 },
  { seconds: 10, valve: 'shut' },
];
// Lost at 1.5 and back at 1.8 inH2O, then up through the window to the high end and back to the middle.
const lean = { ...goodPilot, lostBelow: 1.5, backAbove: 1.8, backBelow: 9 };
const leanActs: Act[] = [
  { seconds: 20 },
  { seconds: 40, to: 1.4 },
  { seconds: 4 },
  { seconds: 80, to: 4.35 },
  { seconds: 4 },
  { seconds: 60, to: 2.4 },
  { seconds: 8 },
  ...shutAndLit,
];
// Lost at 3.6 and back at 3.2 inH2O, then down through the window to the low end and back to the middle.
const rich = { ...goodPilot, lostAbove: 3.6, backAbove: 0, backBelow: 3.2 };
const richActs: Act[] = [
  { seconds: 20 },
  { seconds: 50, to: 3.7 },
  { seconds: 4 },
  { seconds: 90, to: 0.95 },
  { seconds: 4 },
  { seconds: 60, to: 2.4 },
  { seconds: 8 },
  ...shutAndLit,
];
const sides = { lean: [lean, leanActs], rich: [rich, richActs] } as const;

/** The visit of a pilot whose flame has this share of its signal after it came back by itself; the setting is 2.4 inH2O. */
function visit(side: 'lean' | 'rich', backShare: number): Capture {
  const [pilot, acts] = sides[side];
  const setup = {
    asLeftPressure: { value: 2.4, unit: 'inH2O' as const },
    lightOffPlan: { plain: 1, delayed: 0 },
  };
  const trials = [{ pressure: 2.4, unit: 'inH2O' as const, sparkDelayS: 0, lit: true }];
  return record({ ...pilot, backShare, setup, trials }, acts);
}

describe.each(['lean', 'rich'] as const)('a flame that was lost at the %s end and came back by itself', (side) => {
  it('passes in between the ends where it came back with all of its signal', () => {
    const { result } = answer(visit(side, 1));
    expect(result.asLeft!.decision).toBe('pass');
    expect(result.excursions).toBeUndefined();
  });

  it.each([0.3, 0.5, 0.7, 0.85])('neither passes nor goes unsaid where it came back with %d of its signal', (share) => {
    const { result } = answer(visit(side, share));
    expect(result.asLeft?.decision).not.toBe('pass');
    expect(result.warnings.length).toBeGreaterThan(0);
  });
  it.each([0.3, 0.5])('has no set point that is final where it came back with %d of its signal', (share) => {
    const { result } = answer(visit(side, share));
    expect(result.setPoint?.provisional ?? true).toBe(true);
  });

  it('says over which pressures and for how long it was weak', () => {
    const { result } = answer(visit(side, 0.3));
    const [one, ...rest] = result.excursions!;
    expect(rest).toEqual([]);
    expect(result.warnings.find(({ code }) => code === 'signal-stayed-low')!.message).toMatch(/too weakly/u);
    // Three tenths of 4.6 V, and less while it rises.
    expect(one!.least).toBeLessThan(0.32 * 4.6);
    // It was weak from where it came back, past the setting.
    expect(one!.range![0]).toBeLessThan(2.4);
    expect(one!.range![1]).toBeGreaterThan(2.4);
    expect(one!.seconds).toBeGreaterThan(10);
  });
});
