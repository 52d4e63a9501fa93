import { describe, expect, it } from 'vitest';
import { exactEstimate, type Estimate } from '../../../../shared/analysis/curve/estimate.ts';
import { withFittedCurve, withLagUncertainty } from '../../../../shared/analysis/window/ends/between-curves.ts';
import type { SignalEnd } from '../../../../shared/analysis/window/ends/signal-interval.ts';
import { intervalWith } from '../interval-with.ts';

const estimate = (value: number, u: number): Estimate => ({
  value,
  standardError: u,
  component: { u, degrees: Infinity },
  ci: [value - 1.96 * u, value + 1.96 * u],
});
const end = (value: number, u: number, more?: Partial<SignalEnd>): SignalEnd => ({
  ...estimate(value, u),
  bounded: true,
  flameLost: false,
  slope: 5,
  ...more,
});
describe('the free curve beside a fitted one that follows the readings as well', () => {
  it('has the variance of both, each counted half, and that of their distance', () => {
    const found = withFittedCurve(
      intervalWith(end(1, 0.03), end(4, 0.03), estimate(5, 0.03)),
      intervalWith(end(1.04, 0.05), end(4, 0.01), estimate(5.04, 0.05)),
      0.95,
    );
    // By hand: (0.0009 + 0.0025 + 0.0016) / 2 = 0.0025.
    expect(found.low!.standardError).toBeCloseTo(0.05, 12);
    expect(found.low!.value).toBe(1);
    expect(found.low!.ci[0]).toBeCloseTo(1 - 1.96 * 0.05, 4);
    expect(found.plateau.standardError).toBeCloseTo(0.05, 12);
    // The fitted one lies at the same place and is known better: that makes the free one no better known.
    expect(found.high).toEqual(end(4, 0.03));
  });

  it('compares no crossing with a loss of the flame, nor with an end that was not reached', () => {
    const free = intervalWith(end(1, 0.03), end(4, 0.03), estimate(5, 0.02));
    const fitted = intervalWith(end(1.5, 0.01, { flameLost: true }), {
      ...end(3, 0),
      ...exactEstimate(3),
      bounded: false,
    });
    const found = withFittedCurve(free, fitted, 0.95);
    expect(found.low).toEqual(free.low);
    expect(found.high).toEqual(free.high);
  });
});

describe('what the lag leaves open of the free curve', () => {
  // At rest at 1 inH2O for 20 s, then turned up by 0.05 inH2O/s to 4.
  const elapsedS = Float64Array.from({ length: 400 }, (_, i) => i / 5);
  const pressure = elapsedS.map((t) => Math.min(4, Math.max(1, 1 + 0.05 * (t - 20))));
  const tested: [number, number] = [1, 4];

  it('is the way that the pressure went in that time, in quadrature', () => {
    const found = withLagUncertainty(
      intervalWith(end(2, 0.03), end(3.5, 0.12), estimate(5, 0.02)),
      { elapsedS, pressure },
      tested,
      0.8,
      0.95,
    );
    // 0.05 inH2O/s for 0.8 s: 0.04, which makes 0.05 of 0.03.
    expect(found.low!.standardError).toBeCloseTo(0.05, 9);
    expect(found.high!.standardError).toBeCloseTo(Math.hypot(0.12, 0.04), 9);
  });

  it('is nothing where the pressure was at rest, at a loss of the flame, or where a meter was silent', () => {
    const lost = end(3, 0.03, { flameLost: true });
    const found = withLagUncertainty(intervalWith(end(1, 0.03), lost), { elapsedS, pressure }, tested, 1, 0.95);
    expect(found.low!.standardError).toBeCloseTo(0.03, 12);
    expect(found.high).toEqual(lost);
    const apart = { elapsedS: Float64Array.of(0, 10, 20), pressure: Float64Array.of(1.98, 2, 2.02) };
    const silent = withLagUncertainty(intervalWith(end(2, 0.03), lost), apart, tested, 1, 0.95);
    expect(silent.low!.standardError).toBeCloseTo(0.03, 12);
  });
});
