import { describe, expect, it } from 'vitest';
import { analyze } from '../../../shared/analysis/analyze.ts';
import type { Trial } from '../../../shared/model/capture.ts';
import type { Reading } from '../../../shared/model/reading.ts';
import { sweepWith, twoShoulders } from '../synthetic-sweep.ts';

// Two shoulders at 1 and 4 inH2O; the window by the signal is about 1.2 to 3.8.
const capture = sweepWith(twoShoulders, { stepS: 1 });
const trials = (pressure: number, lit: number, notLit = 0, sparkDelayS: number | undefined = 0): Trial[] =>
  Array.from({ length: lit + notLit }, (_, i) => ({
    pressure,
    unit: 'inH2O',
    lit: i < lit,
    ...(sparkDelayS !== undefined && { sparkDelayS }),
  }));
const detail = (all: Trial[], more: Reading[] = []) => {
  const found = analyze({ ...capture, readings: [...capture.readings, ...more], trials: all });
  if (!found.ok) throw new Error(found.fault.message);
  return found.value;
};
const alone = detail([]);

describe('the lighting model in the analysis', () => {
  it('is absent without trials', () => expect(alone).not.toHaveProperty('lighting'));

  it('changes nothing where all lit, and tells each side without an estimate: its count says what it proves', () => {
    const { result } = detail([...trials(2.5, 3), ...trials(2.5, 1, 0, 5), ...trials(3.2, 1), ...trials(1.6, 1)]);
    expect(result.window).toEqual(alone.result.window);
    const { low, high, wanted, leftOut } = result.lightOff!.model!;
    expect({ wanted, leftOut }).toEqual({ wanted: 0.9, leftOut: 0 });
    // The four at the setting tell of both sides.
    expect(low).toMatchObject({ trials: 5, lit: 5, tried: [1.6, 2.5], fallsOff: false });
    expect(high).toMatchObject({ trials: 5, lit: 5, tried: [2.5, 3.2], fallsOff: false });
    expect([low!.estimates, high!.estimates]).toEqual([[], []]);
    expect(high!.reach).toBeUndefined();
  });

  it('tells each side that had a failure with its intervals', () => {
    const { result } = detail([...trials(2.5, 3), ...trials(3.2, 1), ...trials(3.5, 0, 1)]);
    const { estimates } = result.lightOff!.model!.high!;
    expect(estimates.map(({ pressure }) => pressure)).toEqual([2.5, 3.2, 3.5]);
    for (const { probability, ci } of estimates) {
      expect(probability).toBeGreaterThan(ci[0]);
      expect(probability).toBeLessThan(ci[1]);
    }
    // No failure lies at or inside the two that lit, and nothing lit at or outside the last.
    expect([estimates[0]!.ci[1], estimates[1]!.ci[1], estimates[2]!.ci[0]]).toEqual([1, 1, 0]);
  });

  it('changes nothing by one failure: the end is where CONTRACTS has it, guarded by the manometer alone', () => {
    const { result } = detail([...trials(2.5, 3), ...trials(3.2, 1), ...trials(3.5, 0, 1)]);
    expect(result.window.high).toMatchObject({ value: 3.2, guarded: 3.2, cause: 'light-off' });
    expect(result.lightOff!.model!.high!.fallsOff).toBe(false);
  });

  it('narrows the guarded end where many trials show that lighting falls off inside of the end', () => {
    const { result } = detail([...trials(2.5, 12), ...trials(3.2, 1), ...trials(3.3, 0, 6)]);
    const { high, low } = result.window;
    const reach = result.lightOff!.model!.high!.reach!;
    expect(high).toMatchObject({ value: 3.2, cause: 'light-off', guardedBy: 'light-off' });
    expect(reach).toBeGreaterThan(2.5);
    expect(reach).toBeLessThan(3.2);
    expect(high!.guarded).toBe(reach);
    expect(low).toEqual(alone.result.window.low);
    expect(result.setPoint!.marginHigh).toBeCloseTo(high!.guarded - result.setPoint!.value, 12);
  });

  it('asks for the probability of a claim where the plan is one', () => {
    const plan = { probability: 0.8, confidence: 0.9, delayed: 0 };
    const all = [...trials(2.5, 12), ...trials(3.2, 1), ...trials(3.3, 0, 6)];
    const found = analyze({ ...capture, trials: all }, { ...capture.setup, lightOffPlan: plan });
    expect(found.ok && found.value.result.lightOff!.model!.wanted).toBe(0.8);
    const usual = detail(all).result.lightOff!.model!.high!.reach!;
    expect(found.ok && found.value.result.lightOff!.model!.high!.reach).toBeGreaterThan(usual);
  });

  it('leaves out a trial that lit while its pressure moved, and counts one that failed', () => {
    // Gas at 300 s; the pressure goes from 2 to 3.5 while the flame is not yet proved.
    const moving: Reading[] = Array.from({ length: 40 }, (_, i) => {
      const value = i < 10 ? 0 : 2 + (i - 10) / 20;
      return { role: 'pilot_pressure', unit: 'inH2O', elapsedS: 298 + i / 5, value, raw: String(value) };
    });
    const moved = (lit: boolean): Trial => ({ pressure: 3, unit: 'inH2O', sparkDelayS: 0, lit, elapsedS: 300 });
    const { lighting, result } = detail([...trials(2.5, 2), moved(true), moved(false)], moving);
    expect(lighting!.tried.map(({ pressure, lit }) => [pressure, lit])).toEqual([
      [2.5, true],
      [2.5, true],
      [3, false],
    ]);
    expect(result.lightOff!.model!.leftOut).toBe(1);
  });

  it('says nothing where none lit, and nothing of where it would', () => {
    const { result, lighting } = detail(trials(2.5, 0, 3));
    expect(result.window.status).toBe('none');
    expect(lighting!.regions).toBeUndefined();
    expect(result.lightOff!.model!.high).toMatchObject({ trials: 3, lit: 0 });
  });
});
