import { describe, expect, it } from 'vitest';
import type { Capture } from '../../shared/model/capture.ts';
import { answer } from './answer.ts';
import { AnalysisResult } from '../../shared/model/results/analysis-result.ts';
import { goodPilot, record } from './burner-by-hand.ts';

const resultOf = (capture: Capture) => answer(capture).result;

// Swept down and up, shut by hand after 110 s.
const swept = record(goodPilot, [
  { seconds: 10 },
  { seconds: 30, to: 0.9 },
  { seconds: 50, to: 4.4 },
  { seconds: 20, to: 2.4 },
  { seconds: 20, valve: 'shut' },
]);

describe('the phases in an answer', () => {
  it('cover the whole capture without a gap, in its own seconds', () => {
    const phases = resultOf(swept).phases!;
    expect(phases[0]!.from_s).toBeLessThanOrEqual(swept.readings[0]!.elapsedS);
    expect(phases.at(-1)!.to_s).toBeGreaterThanOrEqual(swept.readings.at(-1)!.elapsedS);
    phases.slice(1).forEach((span, k) => expect(span.from_s).toBeCloseTo(phases[k]!.to_s, 9));
  });

  it('say that gas was shut and the flame out after the valve shut, and that it burned before', () => {
    const at = (s: number) => resultOf(swept).phases!.find((span) => span.from_s <= s && s < span.to_s)!;
    expect(at(5)).toMatchObject({ gas: 'flowing', flame: 'burning', phase: 'held' });
    expect(at(125)).toMatchObject({ gas: 'shut', flame: 'out', phase: 'after' });
  });

  it('pass the schema that the page and other programs read', () => {
    expect(AnalysisResult.safeParse(resultOf(swept)).success).toBe(true);
  });
});

describe('the fan-only pressure in an answer', () => {
  it('is the entered one, in the unit of the capture', () => {
    // 0.3 inH2O = 74.73 Pa: 1 inH2O = 249.08891 Pa (NIST SP 811, conventional).
    const entered = { ...swept, setup: { fanOnlyPressure: { value: 74.726673, unit: 'Pa' as const } } };
    const { value, basis } = resultOf(entered).fanOnlyPressure!;
    expect(basis).toBe('entered');
    expect(value).toBeCloseTo(0.3, 6);
  });

  it('is measured where gas was shut for some seconds', () => {
    const { value, basis } = resultOf(swept).fanOnlyPressure!;
    expect(['measured', 'estimated']).toContain(basis);
    // Three readings' noise of 0.003 inH2O on a true 0.3.
    expect(Math.abs(value! - 0.3)).toBeLessThan(0.01);
  });

  it('is unknown, without a number, where gas never was shut', () => {
    const lit = { ...swept, readings: swept.readings.filter(({ elapsedS }) => elapsedS < 109) };
    expect(resultOf(lit).fanOnlyPressure).toEqual({ basis: 'unknown' });
  });
});
