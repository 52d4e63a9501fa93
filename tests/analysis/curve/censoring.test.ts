import { describe, expect, it } from 'vitest';
import { censored } from '../../../shared/analysis/curve/censoring.ts';

describe('a censored reading', () => {
  it('has the root of -2 ln F(z) for its residual', () => {
    // F(0) = 1/2; F(-1) = 0.158655253931, F(1) = 0.841344746069 (printed tables of the normal distribution).
    expect(censored(0).residual).toBeCloseTo(Math.sqrt(2 * Math.LN2), 10);
    expect(censored(-1).residual).toBeCloseTo(Math.sqrt(-2 * Math.log(0.158655253931)), 9);
    expect(censored(1).residual).toBeCloseTo(Math.sqrt(-2 * Math.log(0.841344746069)), 9);
  });
  it('says nothing far beyond the end of the range, and its distance far inside', () => {
    expect(censored(9).residual).toBeLessThan(1e-8);
    expect(censored(40)).toEqual({ residual: 0, slope: 0 });
    expect(censored(-100).residual).toBeCloseTo(100, 0);
    expect(censored(-100).slope).toBeCloseTo(1, 3);
  });
  it('has the slope of its residual everywhere, also where its form changes', () => {
    for (const z of [-30, -10.5, -9.5, -3, 0, 2, 4]) {
      const h = 1e-5;
      const slope = (censored(z - h).residual - censored(z + h).residual) / (2 * h);
      expect(censored(z).slope).toBeCloseTo(slope, 3);
    }
    expect(Math.abs(censored(-10.0001).residual - censored(-9.9999).residual)).toBeLessThan(0.01);
  });
});
