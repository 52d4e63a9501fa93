import { describe, expect, it } from 'vitest';
import { analyze } from '../../../shared/analysis/analyze.ts';
import type { Setup } from '../../../shared/model/setup.ts';
import { drawSweep } from '../../benchmark/sweep/kinds.ts';

const { capture } = drawSweep('two shoulders', 3);
const resultWith = (more: Setup) => {
  const found = analyze(capture, { ...capture.setup, ...more });
  if (!found.ok) throw new Error(found.fault.message);
  return found.value.result;
};
const usual = resultWith({});

describe('the zeros of the meters', () => {
  const zeroed = resultWith({
    pressureZero: { value: 0.05, unit: 'inH2O' },
    darkSignal: { value: 30, unit: 'mV' },
  });
  it('are shown as corrections and leave every value as the meter displays it', () => {
    expect(zeroed.corrections).toEqual({ pressure: -0.05, signal: -0.03 });
    expect(zeroed.window.low!.value).toBe(usual.window.low!.value);
    expect(zeroed.window.high!.value).toBe(usual.window.high!.value);
    expect(usual.corrections).toBeUndefined();
  });
  it('move the guarded ends further in, by at most twice their own uncertainty', () => {
    const further = zeroed.window.low!.guarded - usual.window.low!.guarded;
    expect(further).toBeGreaterThan(0);
    expect(further).toBeLessThan((2 * 0.05) / Math.sqrt(3) + 0.02);
    expect(zeroed.window.high!.guarded).toBeLessThan(usual.window.high!.guarded);
  });
  it('warn when the spark alone looks like a flame, and only then', () => {
    const codes = (spark: number) =>
      resultWith({ sparkOnlySignal: { value: spark, unit: 'V' } }).warnings.map(({ code }) => code);
    expect(codes(usual.requiredSignal.value)).toContain('spark-like-flame');
    expect(codes(usual.requiredSignal.value - 0.1)).not.toContain('spark-like-flame');
  });
});
