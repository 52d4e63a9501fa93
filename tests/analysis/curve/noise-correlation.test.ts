import { describe, expect, it } from 'vitest';
import { whiten } from '../../../shared/analysis/curve/signal-noise.ts';
import { outagesOf, withOutages } from '../../../shared/analysis/curve/model/outages.ts';
import { layoutOf } from '../../../shared/analysis/curve/model/shape.ts';

describe('whitened residuals', () => {
  it('are uncorrelated and keep their variance when the noise is a first-order autoregression', () => {
    // Covariance of such a noise: r^|i-j|. Prais and Winsten 1954: after the transform it is the unit matrix.
    const [n, r] = [12, 0.6];
    const autocorrelation = Float64Array.from({ length: n }, (_, i) => (i > 0 ? r : 0));
    const rows = new Float64Array(n * n);
    for (let i = 0; i < n; i += 1) for (let j = 0; j < n; j += 1) rows[i * n + j] = r ** Math.abs(i - j);
    const transpose = (m: Float64Array) => m.map((_, k) => m[(k % n) * n + Math.floor(k / n)]!);
    whiten(rows, n, autocorrelation);
    const both = transpose(rows);
    whiten(both, n, autocorrelation);
    for (let i = 0; i < n; i += 1)
      for (let j = 0; j < n; j += 1) expect(both[i * n + j]).toBeCloseTo(i === j ? 1 : 0, 12);
  });

  it('are the residuals themselves where nothing is correlated', () => {
    const rows = Float64Array.of(1, 2, 3);
    whiten(rows, 1, new Float64Array(3));
    expect([...rows]).toEqual([1, 2, 3]);
  });
});

describe('the lagged signal of a lost flame', () => {
  const shape = {
    lowShoulder: false,
    highShoulder: false,
    bend: 'level',
    clipped: false,
    flameLosses: 1,
    skew: { low: false, high: false },
  } as const;
  const layout = layoutOf(shape);
  const x = new Float64Array(layout.size);
  x[layout.dark] = 0.1;
  x.set([10, 20], layout.flameLoss);
  const [lag, level] = [2, 4.1];
  const at = (timeS: number) =>
    withOutages(
      outagesOf(x, layout, lag, () => level),
      timeS,
      lag,
      () => level,
    );

  it('falls and comes back as a first-order system responds to a step', () => {
    // Step response 1 - exp(-t/T), textbook: after one time constant 63.2 % of the way.
    expect(at(9.9)).toBe(level);
    expect(at(12)).toBeCloseTo(0.1 + 4 * Math.exp(-1), 12);
    const lowest = 0.1 + 4 * Math.exp(-5);
    expect(at(20)).toBeCloseTo(lowest, 12);
    expect(at(22)).toBeCloseTo(level - (level - lowest) * Math.exp(-1), 12);
  });

  it('is the same whether a delay is dead time or a later loss', () => {
    const later = Float64Array.from(x);
    later.set([10.37, 20.37], layout.flameLoss);
    const outages = outagesOf(later, layout, lag, () => level);
    for (const t of [9, 10.5, 13.3, 19.9, 20.1, 27])
      expect(withOutages(outages, t + 0.37, lag, () => level)).toBeCloseTo(at(t), 12);
  });
});
