import { describe, expect, it } from 'vitest';
import { analyze } from '../../../../shared/analysis/analyze.ts';
import { silentSeconds } from '../../../../shared/analysis/sweep/meter-faults/silence.ts';
import type { Capture } from '../../../../shared/model/capture.ts';
import { drawSweep } from '../../../benchmark/sweep/kinds.ts';

const every = (stepS: number, from: number, to: number) => {
  const time = Float64Array.from({ length: Math.round((to - from) / stepS) + 1 }, (_, i) => from + i * stepS);
  return { time, value: time };
};
const joined = (...parts: { time: Float64Array }[]) => {
  const time = Float64Array.from(parts.flatMap((part) => [...part.time]));
  return { time, value: time };
};

describe('a meter that falls silent', () => {
  const other = every(0.1, 0, 60);
  it('is silent for the seconds that the other goes on', () => {
    // From 20 to 35 s, to one of its intervals on each side.
    expect(Math.abs(silentSeconds(joined(every(0.2, 0, 20), every(0.2, 35, 60)), other) - 15)).toBeLessThan(0.4);
  });
  it('is silent before its first and after its last reading as well', () => {
    expect(Math.abs(silentSeconds(every(0.2, 0, 20), other) - 40)).toBeLessThan(1.5);
    expect(Math.abs(silentSeconds(every(0.2, 30, 60), other) - 30)).toBeLessThan(1.5);
  });
  it('is not silent for reading slowly, nor while both pause', () => {
    expect(silentSeconds(every(2, 0, 60), other)).toBe(0);
    const pause = joined(every(0.2, 0, 20), every(0.2, 45, 60));
    expect(silentSeconds(pause, joined(every(0.1, 0, 20), every(0.1, 45, 60)))).toBe(0);
  });
});

describe('an analysis with a meter that fell silent', () => {
  const { capture } = drawSweep('two shoulders', 3);
  const silences = (some: Capture) => {
    const found = analyze(some);
    if (!found.ok) throw new Error(found.fault.message);
    return found.value.result.warnings.filter(({ code }) => code === 'meter-fell-silent');
  };
  it('reports which and for how long, and nothing where both gave readings all the time', () => {
    const [role, untilS] = ['flame_signal', 40];
    const cut = capture.readings.filter((reading) => reading.role !== role || reading.elapsedS < untilS);
    const warnings = silences({ ...capture, readings: cut });
    expect(warnings).toHaveLength(1);
    const seconds = Math.max(...capture.readings.map(({ elapsedS }) => elapsedS)) - untilS;
    const [minutes, rest] = [Math.floor(seconds / 60), Math.round(seconds % 60)];
    expect(warnings[0]!.message).toContain(`The flame signal meter gave no number for ${minutes} min ${rest} s`);
    expect(silences(capture)).toEqual([]);
  });
});

describe('meters of which nothing can be used', () => {
  const { capture } = drawSweep('two shoulders', 3);
  const refused = (change: (reading: Capture['readings'][number]) => object) => {
    const found = analyze({
      ...capture,
      readings: capture.readings.map((reading) => ({ ...reading, ...change(reading) })),
    });
    return found.ok ? 'no fault' : found.fault.code;
  };
  it('are refused with the reason: overload all the time, and two recordings that do not overlap', () => {
    const isSignal = (role: string) => role === 'flame_signal';
    expect(refused(({ role }) => (isSignal(role) ? { value: Number.NaN, flag: 'overload' } : {}))).toBe('no-signal');
    expect(refused(({ role, elapsedS }) => (isSignal(role) ? { elapsedS: elapsedS + 5000 } : {}))).toBe(
      'too-few-pairs',
    );
  });
});
