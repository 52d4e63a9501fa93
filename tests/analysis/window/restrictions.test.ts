import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { exactEstimate } from '../../../shared/analysis/curve/estimate.ts';
import type { Bounds } from '../../../shared/analysis/window/evidence.ts';
import { decide } from '../../../shared/analysis/window/set-point.ts';
import type { SignalEnd } from '../../../shared/analysis/window/ends/signal-interval.ts';
import { findWindow } from '../../../shared/analysis/window/window.ts';
import { boundsBetween } from './bounds.ts';

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });

/** An end anywhere about a pressure, known to anything between nothing and 0.4. */
const signalEnd = (about: number) =>
  fc
    .record({
      value: between(about - 0.5, about + 0.5),
      below: between(0, 0.4),
      above: between(0, 0.4),
      u: between(0, 0.2),
    })
    .map(({ value, below, above, u }): SignalEnd => ({
      value,
      ci: [value - below, value + above],
      standardError: u,
      component: { u, degrees: Infinity },
      bounded: true,
      flameLost: false,
      slope: 0,
    }));

const unsteadyEnd = (side: 'low' | 'high', about: number) =>
  fc
    .record({ value: between(about - 0.7, about + 0.7), half: between(0, 0.3) })
    .map(({ value, half }) => ({ side, value, scatter: 1, ci: [value - half, value + half] as [number, number] }));
const returnedAt = (side: 'low' | 'high', about: number) =>
  fc
    .record({ value: between(about - 0.7, about + 0.7), half: between(0, 0.3), isAtRest: fc.boolean() })
    .map(({ value, half, isAtRest }) => ({
      side,
      lostAt: value,
      isAtRest,
      returned: { ...exactEstimate(value), ci: [value - half, value + half] as [number, number] },
    }));
const litAt = (about: number) =>
  between(about - 0.7, about + 0.7).map((value) => ({ value, failure: value - Math.sign(2.5 - about) * 0.1 }));

const lightOff = fc
  .record({ low: fc.option(litAt(1), { nil: undefined }), high: fc.option(litAt(4), { nil: undefined }) })
  .map(({ low, high }) => ({
    trials: 4,
    lit: 3,
    lowerBound: 0.2,
    contradicting: [],
    neverLit: false,
    ...(low && { low }),
    ...(high && { high }),
  }));

/** What may restrict a window beside its signal, each as a change of the bounds. */
const restriction = fc.oneof(
  fc.oneof(unsteadyEnd('low', 1), unsteadyEnd('high', 4)).map((end) => (b: Bounds): Bounds => ({
    ...b,
    unsteady: b.unsteady.some(({ side }) => side === end.side) ? b.unsteady : [...b.unsteady, end],
  })),
  fc.oneof(returnedAt('low', 1), returnedAt('high', 4)).map((one) => (b: Bounds): Bounds => ({
    ...b,
    flameHysteresis: [...b.flameHysteresis, one],
  })),
  lightOff.map((trials) => (b: Bounds): Bounds => ({ ...b, lightOff: b.lightOff ?? trials })),
  fc.record({ low: between(0.3, 1.7), high: between(3.3, 4.7) }).map((reach) => (b: Bounds): Bounds => ({
    ...b,
    lightingReach: b.lightingReach.low === undefined ? reach : b.lightingReach,
  })),
  fc.record({ low: between(0.3, 1.7), high: between(3.3, 4.7) }).map((range) => (b: Bounds): Bounds => ({
    ...b,
    makerRange: b.makerRange ?? range,
  })),
);

const bare = fc
  .record({ low: signalEnd(1), high: signalEnd(4), pressureU: between(0, 0.2), signalU: between(0, 0.1) })
  .map(({ low, high, pressureU, signalU }) => boundsBetween(low, high, { pressureU: () => pressureU, signalU }));

const ranks = ['no window', 'fail', 'conditional-fail', 'conditional-pass', 'pass'];
const verdictOf = (bounds: Bounds, setting: number): number => {
  const { low, high } = findWindow(bounds);
  return ranks.indexOf(low && high ? decide(setting, low, high) : 'no window');
};
const guardedOf = (bounds: Bounds): [number, number] => {
  const { low, high } = findWindow(bounds);
  return low && high && low.guarded < high.guarded ? [low.guarded, high.guarded] : [Infinity, -Infinity];
};

describe('one more restriction, whatever it is and whatever there is already', () => {
  const visit = fc.tuple(
    bare,
    fc.array(restriction, { maxLength: 4 }),
    restriction,
    fc.oneof(between(0.2, 4.8), between(0.4, 1.6), between(3.4, 4.6)),
  );

  it('never widens the guarded window', () => {
    fc.assert(
      fc.property(visit, ([start, others, one]) => {
        const before = others.reduce((bounds, add) => add(bounds), start);
        const [was, is] = [guardedOf(before), guardedOf(one(before))];
        expect(is[0]).toBeGreaterThanOrEqual(was[0]);
        expect(is[1]).toBeLessThanOrEqual(was[1]);
      }),
      { numRuns: 2000, seed: 1 },
    );
  });

  it('never improves the verdict on a setting', () => {
    fc.assert(
      fc.property(visit, ([start, others, one, setting]) => {
        const before = others.reduce((bounds, add) => add(bounds), start);
        expect(verdictOf(one(before), setting)).toBeLessThanOrEqual(verdictOf(before, setting));
      }),
      { numRuns: 5000, seed: 2 },
    );
  });

  it('of the kind that leaves nothing between the guarded ends passes no setting', () => {
    // The low end known to 1.2 and the high one to 1.5: guarded by 2 u they meet.
    const vague = (value: number, u: number): SignalEnd => ({
      ...exactEstimate(value),
      standardError: u,
      bounded: true,
      flameLost: false,
      slope: 0,
    });
    const [start] = fc.sample(bare, { numRuns: 1, seed: 3 });
    const { low, high } = findWindow({
      ...start!,
      interval: { ...start!.interval, low: vague(1, 1.2), high: vague(4, 1.5) },
    });
    expect(low!.guarded).toBe(high!.guarded);
    expect(decide(low!.guarded, low!, high!)).toBe('conditional-pass');
  });
});
