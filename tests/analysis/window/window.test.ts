import { describe, expect, it } from 'vitest';
import { exactEstimate } from '../../../shared/analysis/curve/estimate.ts';
import type { SignalEnd } from '../../../shared/analysis/window/ends/signal-interval.ts';
import { limitingCauses } from '../../../shared/analysis/window/set-point.ts';
import { findWindow } from '../../../shared/analysis/window/window.ts';
import { boundsBetween } from './bounds.ts';

const end = (value: number, ci: [number, number], over: Partial<SignalEnd> = {}): SignalEnd => ({
  value,
  ci,
  standardError: 0.01,
  component: { u: 0.01, degrees: Infinity },
  bounded: true,
  flameLost: false,
  slope: 0,
  ...over,
});

const narrow = end(4, [3.98, 4.02]);

describe('guarded ends', () => {
  // 1.959964: quantile of the normal distribution for 95 %; U = k u with k = 2 (JCGM 100:2008, 6.2.1 and 6.3.3).
  it.each([false, true])(
    'go in by what the inward side of a lopsided interval implies, flame lost: %s',
    (flameLost) => {
      const low = findWindow(boundsBetween(end(1, [0.99, 1.12], { flameLost }), narrow)).low!;
      expect(low.guarded).toBeCloseTo(1 + (2 * 0.12) / 1.959964, 6);
      const high = findWindow(boundsBetween(end(1, [0.98, 1.02]), end(4, [3.85, 4.01], { flameLost }))).high!;
      expect(high.guarded).toBeCloseTo(4 - (2 * 0.15) / 1.959964, 6);
    },
  );

  it('do not go in for how far the outward side reaches', () => {
    const { low } = findWindow(boundsBetween(end(1, [0.5, 1.01]), narrow));
    expect(low!.guarded).toBeCloseTo(1.02, 12);
  });

  it('are never outside of the inward end of the interval', () => {
    for (const inward of [0, 0.005, 0.05, 0.5])
      for (const standardError of [Number.NaN, 0, 0.01, 0.03]) {
        const { low } = findWindow(boundsBetween(end(1, [0.9, 1 + inward], { standardError }), narrow));
        expect(low!.guarded).toBeGreaterThanOrEqual(low!.ci[1]);
      }
  });

  it('take the confidence of the interval into account', () => {
    // 2.575829: quantile of the normal distribution for 99 %.
    const { low } = findWindow(boundsBetween(end(1, [0.9, 1.2]), narrow, { confidence: 0.99 }));
    expect(low!.guarded).toBeCloseTo(1 + (2 * 0.2) / 2.575829, 6);
  });

  it('add fit, manometer and signal meter in quadrature, the last divided by the slope: a case worked by hand', () => {
    // Low end: fit 0.01 inH2O, manometer 0.02 inH2O, required signal uncertain by 0.03 V on a slope of 1.5 V/inH2O, which is
    // 0.02 inH2O. Root of 1 + 4 + 4 hundredths squared: u = 0.03, U = 2 u = 0.06 (JCGM 100:2008, 5.1.2 and 6.2.1).
    const low = end(1, [0.99, 1.01], { slope: 1.5 });
    // High end: the same with half the slope, 0.04 inH2O: root of 1 + 4 + 16, U = 0.0917. The slope falls there.
    const high = end(4, [3.99, 4.01], { slope: -0.75 });
    const found = findWindow(boundsBetween(low, high, { pressureU: () => 0.02, signalU: 0.03 }));
    expect(found.low!.guarded).toBeCloseTo(1.06, 12);
    expect(found.high!.guarded).toBeCloseTo(4 - 2 * Math.sqrt(0.0021), 12);
    expect(found.uncertainty!.low).toBeCloseTo(0.03, 12);
  });

  it('have no slope term where the flame was lost: no signal is compared there', () => {
    const lost = end(1, [0.99, 1.01], { flameLost: true, slope: 0 });
    expect(findWindow(boundsBetween(lost, narrow, { signalU: 0.03 })).low!.guarded).toBeCloseTo(1.02, 12);
  });
});

describe('the guarded value of an end', () => {
  // The maker's range ends at 1.05, exact but for 0.01 of the manometer: guarded 1.07. The signal's own end is at 1.00 and known to 0.1:
  // its guarded value, 1.00 + 2 x root(0.1^2 + 0.01^2) = 1.201, lies farther inside.
  const vague = end(1, [0.95, 1.05], { standardError: 0.1 });
  const found = findWindow(boundsBetween(vague, narrow, { makerRange: { low: 1.05, high: 9 }, pressureU: () => 0.01 }));

  it('is the innermost of all evidence, whichever sets the end', () => {
    expect(found.low).toMatchObject({ value: 1.05, cause: 'maker-range', guardedBy: 'signal' });
    expect(found.low!.guarded).toBeCloseTo(1 + 2 * Math.hypot(0.1, 0.01), 12);
  });

  it('names its own cause where the evidence that sets the end asks for most distance as well', () => {
    expect(found.high).toMatchObject({ cause: 'signal', guardedBy: 'signal' });
  });

  it('is what limits a setting between the end and the guarded end', () => {
    expect(limitingCauses(1.1, found.low!, found.high!)).toEqual(['signal']);
    expect(limitingCauses(1.02, found.low!, found.high!)).toEqual(['maker-range']);
    expect(limitingCauses(2, found.low!, found.high!)).toEqual([]);
  });
});

describe('the reach of the lighting model', () => {
  const trials = { trials: 9, lit: 7, lowerBound: 0.4, contradicting: [], neverLit: false };
  const lightOff = { ...trials, high: { value: 3.4, failure: 3.8 } };
  const bounded = (high: number) =>
    findWindow(
      boundsBetween(end(1, [0.98, 1.02]), narrow, { lightOff, lightingReach: { high }, pressureU: () => 0.01 }),
    );

  it('narrows the guarded end, inward by the manometer, and leaves the end and its cause', () => {
    const { low, high } = bounded(3.1);
    expect(high).toMatchObject({ value: 3.4, ci: [3.4, 3.8], cause: 'light-off', guardedBy: 'light-off' });
    expect(high!.guarded).toBeCloseTo(3.08, 12);
    expect(low!.guardedBy).toBe('signal');
  });

  it('is told with the trials that set the end', () => {
    const { message } = bounded(3.1).evidence.find(({ cause }) => cause === 'light-off')!;
    expect(message).toContain('lights less often than wanted above 3.10 inH2O, so the guarded end lies inside that');
  });

  it('widens nothing where it lies outside of other evidence', () =>
    expect(bounded(3.9).high!.guarded).toBeCloseTo(3.38, 12));
});

describe('an end at which the flame came back by itself', () => {
  const lost = end(1.29, [1.27, 1.31], { flameLost: true });
  const estimate = { ...exactEstimate(1.51), ci: [1.49, 1.53] as [number, number], standardError: 0.01 };
  const returned = { side: 'low', lostAt: 1.29, returned: estimate, isAtRest: false } as const;

  it('is where it came back, not where it was lost; the signal interval stays as it is', () => {
    const { low } = findWindow(boundsBetween(lost, narrow, { flameHysteresis: [returned] }));
    expect(low).toMatchObject({ value: 1.51, cause: 'flame-lost', ci: [1.49, 1.53] });
  });

  it('does not move an end of the signal that lies farther inside', () => {
    const signal = end(1.7, [1.68, 1.72]);
    const { low } = findWindow(boundsBetween(signal, narrow, { flameHysteresis: [returned] }));
    expect(low).toMatchObject({ value: 1.7, cause: 'signal' });
  });
});
