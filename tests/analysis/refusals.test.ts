import { describe, expect, it } from 'vitest';
import { analyze } from '../../shared/analysis/analyze.ts';
import type { Capture } from '../../shared/model/capture.ts';
import { drawSweep } from '../benchmark/sweep/kinds.ts';
import { withClock } from '../benchmark/meters/draw.ts';
import { simulateVisit } from '../../shared/practice/simulate.ts';
import { drawVisit } from '../benchmark/visit/visit.ts';

describe('what the analysis refuses, with a reason', () => {
  const { capture } = simulateVisit('clean', 1);
  const only = (keep: (role: string, i: number) => boolean): Capture => ({
    ...capture,
    marks: [],
    readings: capture.readings.filter((reading, i) => keep(reading.role, i)),
  });
  const code = (some: Capture) => {
    const outcome = analyze(some);
    return outcome.ok ? 'no fault' : outcome.fault.code;
  };

  it('one meter silent', () => {
    expect(code(only((role) => role === 'pilot_pressure'))).toBe('no-signal');
    expect(code(only((role) => role === 'flame_signal'))).toBe('no-pressure');
  });
  it('fewer than eight readings', () => expect(code(only((_role, i) => i < 12))).toBe('too-few-pairs'));
  // The signal of this sweep follows by 0.3 to 2 s: some seconds off one clock make that nothing a burner does.
  it.each([-4, 15])('files whose clocks are %i s apart', (byS) => {
    const sweep = drawSweep('two shoulders', 4).capture;
    expect(code(sweep)).toBe('no fault');
    expect(code({ ...sweep, readings: withClock(sweep.readings, 'flame_signal', byS) })).toBe('clocks-apart');
  });
  it('one pressure only', () => {
    const still = {
      ...capture,
      marks: [],
      readings: capture.readings.map((r) => (r.role === 'pilot_pressure' ? { ...r, value: 2.5 } : r)),
    };
    expect(code(still)).toBe('one-pressure');
  });
  // The second meter shows two digits, and so the same number all the time.
  it.each([
    ['no-flame-response', 0.003],
    ['signal-without-gas', 0],
  ])('a signal that stood there over shut gas, from the first reading to the last: %s', (code, noise) => {
    const fanOnly = 0.25;
    const readings = Array.from({ length: 1200 }, (_, i): Capture['readings'][number] => {
      const elapsedS = i / 10;
      const isOn = elapsedS > 15 && elapsedS < 100;
      const swept = 2.5 + 1.2 * Math.sin((elapsedS - 15) / 13);
      const off = noise * Math.sin(7.1 * i);
      return i % 2 === 0
        ? { role: 'pilot_pressure', unit: 'inH2O', elapsedS, value: (isOn ? swept : fanOnly) + off, raw: '' }
        : { role: 'flame_signal', unit: 'V', elapsedS, value: 2 + off, raw: '' };
    });
    const stuck = { ...capture, marks: [], trials: [], lines: [], readings };
    const setup = { ...capture.setup, fanOnlyPressure: { value: fanOnly, unit: 'inH2O' } } as const;
    const found = analyze({ ...stuck, setup }, setup);
    expect(found.ok ? found.value.result.setPoint : undefined).toBeUndefined();
    const [first] = found.ok ? found.value.result.warnings : [found.fault];
    expect(first!.code).toBe(code);
    expect(first!.message).toMatch(/with the pilot gas shut/u);
  });
  // The regulator was trimmed once, by less than a tenth of its setting, in more than ten minutes of burning.
  it.each([
    ['steady with gusts', 104],
    ['steady with flicker and self-checks', 104],
  ] as const)('a regulator that was never turned through a range: %s, seed %d', (kind, seed) =>
    expect(code(drawVisit(kind, seed).capture)).toBe('one-pressure'),
  );
});

describe('a minimum signal that cannot be applied', () => {
  const { capture } = simulateVisit('clean', 1);
  const resultWith = (minimumSignal: { value: number; unit: 'V' | 'uA' }) => {
    const outcome = analyze(capture, { ...capture.setup, minimumSignal });
    if (!outcome.ok) throw new Error(outcome.fault.message);
    return outcome.value.result;
  };

  it('above every signal gives no window, and a warning', () => {
    const result = resultWith({ value: 9, unit: 'V' });
    expect(result.signalInterval.status).toBe('none');
    expect(result.setPoint).toBeUndefined();
    expect(result.warnings[0]?.code).toBe('signal-below-required');
  });
  it('in another kind of unit is ignored, with a warning', () => {
    const result = resultWith({ value: 3, unit: 'uA' });
    expect(result.requiredSignal.basis).toBe('drop-fraction');
    expect(result.warnings.map((warning) => warning.code)).toContain('minimum-signal-unit');
  });
});
