import { describe, expect, it } from 'vitest';
import { withUntestedGaps } from '../../../../shared/analysis/window/ends/untested-gap.ts';
import type { SignalEnd, SignalInterval } from '../../../../shared/analysis/window/ends/signal-interval.ts';
import { createRandom } from '../../../../shared/numerics/random.ts';
import { answer } from '../../answer.ts';
import { sweepWith } from '../../synthetic-sweep.ts';

const plateau = 4.8;
const setup = { fanOnlyPressure: { value: 0.2, unit: 'inH2O' }, minimumSignal: { value: 1.25, unit: 'V' } } as const;

/** Three ways in which a signal rises to its plateau, from 0 to 1; `x` in widths of the shoulder. And where each comes to nine tenths. */
const shoulders = {
  logistic: { at: (x: number) => 1 / (1 + Math.exp(-x)), nine: Math.log(9) },
  exponential: { at: (x: number) => (x < -2 ? 0 : 1 - Math.exp(-(x + 2))), nine: Math.log(10) - 2 },
  straight: { at: (x: number) => Math.min(1, Math.max(0, (x + 3) / 6)), nine: 2.4 },
};

/**
 * Gas on for 30 s in every minute, each time at another pressure and lit after a second above 0.9 inH2O; shut in between, and the regulator is
 * turned then. The detector takes 0.6 s to 63 %, and its noise is 0.04 V.
 */
const visitWithoutSweep = (pressures: number[], signalAt: (pressure: number) => number) => {
  const random = createRandom(pressures.length);
  const isOn = (t: number) => t % 60 >= 20 && t % 60 < 50;
  const lit = (t: number) => {
    const pressure = pressures[Math.floor(t / 60)]!;
    const grown = 1 - Math.exp(-Math.min(29, Math.max(0, (t % 60) - 21)) / 0.6);
    const left = Math.exp(-Math.max(0, (t % 60) - 50) / 0.6);
    return pressure > 0.9 ? signalAt(pressure) * grown * left : 0;
  };
  return sweepWith((_, t) => Math.round((0.02 + lit(t) + 0.04 * random.normal()) * 1000) / 1000, {
    pressureAt: (t) => (isOn(t) ? pressures[Math.floor(t / 60)]! : 0.2),
    lastS: 60 * pressures.length,
    stepS: 0.2,
  });
};

describe.each(Object.entries(shoulders))('a visit without a sweep on a shoulder that is %s', (_, { at, nine }) => {
  it.each([1.15, 1.25, 1.45])('about %s inH2O: its end holds the truth', (middle) => {
    const width = 0.2;
    const signalAt = (pressure: number) => plateau * at((pressure - middle) / width);
    const truth = middle + nine * width;
    const { result } = answer(visitWithoutSweep([2.5, 2, 1.5, 1, 3], signalAt), setup);
    const { low } = result.signalInterval;
    expect(low?.bounded).toBe(true);
    expect(low!.ci[0]).toBeLessThanOrEqual(truth);
    expect(low!.ci[1]).toBeGreaterThanOrEqual(truth);
  });
});

describe('an end between two tested pressures', () => {
  const end = (value: number, more: Partial<SignalEnd> = {}): SignalEnd => ({
    value,
    standardError: 0.01,
    component: { u: 0.01, degrees: 10 },
    ci: [value - 0.02, value + 0.02],
    bounded: true,
    flameLost: false,
    slope: 3,
    ...more,
  });
  const lowOf = (low: SignalEnd, pressures: number[]) =>
    withUntestedGaps({ low } as SignalInterval, Float64Array.from(pressures), 0.15).low!;

  it('lies anywhere between them where they are far apart', () => {
    const { ci, standardError } = lowOf(end(1.4), [1.2, 1.6, 2]);
    expect(ci).toEqual([1.2, 1.6]);
    // Standard deviation of a rectangle of that width (JCGM 100:2008, 4.3.7).
    expect(standardError).toBeCloseTo(0.4 / Math.sqrt(12), 10);
  });

  it('keeps its interval where they are close, where it lies beyond all of them, and where the flame was lost there', () => {
    expect(lowOf(end(1.4), [1.35, 1.45, 2]).ci).toEqual(end(1.4).ci);
    expect(lowOf(end(1.1), [1.2, 1.6, 2]).ci).toEqual(end(1.1).ci);
    expect(lowOf(end(1.4, { flameLost: true }), [1.2, 1.6, 2]).ci).toEqual(end(1.4).ci);
  });

  it('keeps a wider interval that it has', () => {
    expect(lowOf(end(1.4, { ci: [1, 1.5] }), [1.2, 1.6, 2]).ci).toEqual([1, 1.6]);
  });
});
