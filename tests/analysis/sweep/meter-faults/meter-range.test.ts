import { describe, expect, it } from 'vitest';
import { cutOff, suspectedRange, withOverloads } from '../../../../shared/analysis/sweep/meter-faults/meter-range.ts';
import { createRandom } from '../../../../shared/numerics/random.ts';
import { drawWildSweep } from '../../../benchmark/wild/kinds.ts';
import { answer, codesOf } from '../../answer.ts';

const seriesOf = (values: readonly number[], stepS = 0.2) => ({
  time: Float64Array.from(values, (_, i) => i * stepS),
  value: Float64Array.from(values),
});
/** Up to a level and down again, in hundredths of a volt. */
const hill = (top: number, noise = 0) => {
  const random = createRandom(3);
  return Array.from({ length: 300 }, (_, i) => {
    const level = 6 * Math.sin((Math.PI * i) / 300) ** 2;
    return Math.round(100 * Math.min(top, Math.max(0.02, level + noise * random.normal()))) / 100;
  });
};

describe('the range of a signal meter', () => {
  it('is suspected where far more readings stand at one end than just inside it', () => {
    expect(suspectedRange(seriesOf(hill(4)))).toEqual({ top: 4 });
    expect(suspectedRange(seriesOf(hill(4, 0.02)))).toEqual({ top: 4 });
    expect(suspectedRange(seriesOf(hill(9).map((v) => Math.max(2.5, v))))).toEqual({ bottom: 2.5 });
  });
  it('is not suspected of a plateau that the signal reaches, nor of the dark', () => {
    expect(suspectedRange(seriesOf(hill(9)))).toEqual({});
    // A level of 4.00 with noise of a digit and a half.
    const random = createRandom(5);
    const steady = Array.from({ length: 200 }, () => Math.round(100 * (4 + 0.015 * random.normal())) / 100);
    expect(suspectedRange(seriesOf([...steady, ...hill(3.9)]))).toEqual({});
    expect(suspectedRange(seriesOf([...hill(9), ...Array.from({ length: 40 }, () => 0.02)]))).toEqual({});
  });
  it('sorts readings into those at an end and those between', () => {
    const of = seriesOf([1, 1.01, 2, 3.99, 4, 1]);
    expect([...cutOff(of, { bottom: 1, top: 4 })]).toEqual([-1, 0, 0, 0, 1, -1]);
    expect([...cutOff(of, {})]).toEqual([0, 0, 0, 0, 0, 0]);
  });
});

describe('overloads of a signal meter', () => {
  // Numbers to 3 s and from 6 s on, overloads between.
  const shown = { time: Float64Array.of(1, 2, 3, 6, 7, 8), value: Float64Array.of(1, 3, 4.9, 4.8, 3, 1) };
  it('count as its highest number where they lie between high ones', () => {
    const { signal, top } = withOverloads(shown, [4, 4.5, 5]);
    expect(top).toBe(4.9);
    expect([...signal.time]).toEqual([1, 2, 3, 4, 4.5, 5, 6, 7, 8]);
    expect([...signal.value]).toEqual([1, 3, 4.9, 4.9, 4.9, 4.9, 4.8, 3, 1]);
  });
  it('say nothing amid low numbers, nor one by one', () => {
    const dark = { time: shown.time, value: Float64Array.of(4.9, 3, 1, 1, 3, 4) };
    expect(withOverloads(dark, [4, 4.5, 5])).toEqual({ signal: dark });
    expect(withOverloads(shown, [2.5, 4.5, 7.5])).toEqual({ signal: shown });
  });
});

// Sweeps whose meter saturates, by their definitions (tests/benchmark/wild); each had an end, or its lag, outside of its interval.
describe('a sweep whose meter ends its range on a shoulder', () => {
  const cases: [string, number, string][] = [
    ['a meter at the end of its range at half', 4, 'clipped-plateau'],
    ['a meter at the end of its range at half', 13, 'clipped-plateau'],
    ['a meter that shows nothing below half', 7, 'signal-below-range'],
    ['overload at half', 3, 'signal-overload'],
    ['overload at half', 14, 'signal-overload'],
  ];
  it.each(cases)('%s, %i: holds both ends in narrow intervals and says %s', (kind, seed, code) => {
    const { capture, truth } = drawWildSweep(kind, seed);
    const { signalInterval, lag_s: lag, warnings } = answer(capture).result;
    for (const side of ['low', 'high'] as const) {
      const [from, to] = signalInterval[side]!.ci;
      expect(from).toBeLessThan(truth[side]!);
      expect(to).toBeGreaterThan(truth[side]!);
      expect(to - from).toBeLessThan(0.1);
    }
    expect(lag.ci[0]).toBeLessThan(truth.lagS);
    expect(lag.ci[1]).toBeGreaterThan(truth.lagS);
    expect(warnings.map((warning) => warning.code)).toContain(code);
  });
  it('has a provisional set point where the plateau is beyond the range', () => {
    const { capture, truth } = drawWildSweep('overload near the top', 2);
    const { setPoint, plateau } = answer(capture).result;
    expect(setPoint!.provisional).toBe(true);
    // Its highest number lies below the level from which on it shows an overload.
    expect(plateau.value).toBeLessThan(truth.plateau);
    expect(plateau.ci[1]).toBeGreaterThan(truth.plateau);
  });
  it('says nothing of a range where the whole curve lies inside it', () => {
    const codes = codesOf(drawWildSweep('curve: logistic', 2).capture);
    expect(codes).not.toContain('clipped-plateau');
    expect(codes).not.toContain('signal-below-range');
  });
});
