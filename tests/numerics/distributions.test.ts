import { describe, expect, it } from 'vitest';
import { betaQuantile, normalCdf, normalQuantile, studentQuantile } from '../../shared/numerics/distributions.ts';

/** Relative difference from a value known from outside. */
const off = (found: number, expected: number): number => Math.abs(found / expected - 1);

// Tables are held against in `npm run verify`; here stand the corners of the distributions, by closed forms and expansions.
describe('the quantile of Student t', () => {
  const chances = [1e-12, 0.001, 0.25, 0.4999, 0.4999999, 0.5000001, 0.75, 0.975, 1 - 2 ** -30];

  it('is that of Cauchy with one degree of freedom, tan(pi (p - 1/2))', () => {
    for (const p of chances) {
      const tail = Math.min(p, 1 - p);
      // The same as 1 / tan(pi tail), which keeps its digits in the tail.
      const expected = tail < 0.4 ? Math.sign(p - 0.5) / Math.tan(Math.PI * tail) : Math.tan(Math.PI * (p - 0.5));
      expect([p, off(studentQuantile(p, 1), expected)]).toEqual([p, expect.closeTo(0, 13)]);
    }
  });

  it('is (2 p - 1) / sqrt(2 p (1 - p)) with two', () => {
    for (const p of chances)
      expect(off(studentQuantile(p, 2), (2 * (p - 0.5)) / Math.sqrt(2 * p * (1 - p)))).toBeLessThan(1e-14);
  });

  it.each([1e7, 1e9, 1e12, 1e15, 1e19, 1e21, 1e300, Infinity])(
    'with %d degrees has a first-order difference from the normal one, near the median, too',
    (degrees) => {
      for (const p of chances) {
        const z = normalQuantile(p);
        // Abramowitz and Stegun 1964, 26.7.5; the next term is below 1e-12 of z here.
        const expected = z + (z ** 3 + z) / (4 * degrees);
        expect([p, off(studentQuantile(p, degrees), expected)]).toEqual([p, expect.closeTo(0, 11)]);
      }
    },
  );

  it('is zero at the median and infinite at both ends', () => {
    for (const degrees of [1, 3.7, 1e9, Infinity])
      expect([0, 0.5, 1].map((p) => studentQuantile(p, degrees))).toEqual([-Infinity, 0, Infinity]);
  });
});

describe('the normal distribution', () => {
  // mpmath at 40 digits: the root of erfc(-z / sqrt 2) / 2 = p for the double nearest to p.
  it.each([
    [1e-300, -37.0470962993612],
    [1e-20, -9.262340089798407],
  ])('has its quantile at %d to 13 digits, far below what 1 - p can hold', (p, z) => {
    expect(off(normalQuantile(p), z)).toBeLessThan(1e-13);
    expect(off(normalCdf(z), p)).toBeLessThan(1e-12);
  });

  it('ends in 0 and 1', () => {
    expect([-Infinity, 0, Infinity].map(normalCdf)).toEqual([0, 0.5, 1]);
    expect([0, 0.5, 1].map(normalQuantile)).toEqual([-Infinity, 0, Infinity]);
  });
});

describe('the beta quantile', () => {
  it('is p^(1/n) for n successes in n trials, and 1 - (1 - p)^(1/n) for none', () => {
    for (const n of [1, 10, 22, 1000, 1e6])
      for (const p of [0.001, 0.05, 0.5, 0.95]) {
        expect(off(betaQuantile(p, n, 1), Math.exp(Math.log(p) / n))).toBeLessThan(1e-13);
        expect(off(betaQuantile(p, 1, n), -Math.expm1(Math.log1p(-p) / n))).toBeLessThan(1e-13);
      }
  });

  it('takes what rounding put beside [0, 1] for the end of it', () => {
    expect([-1e-17, 0, 1, 1 + 2 ** -52].map((p) => betaQuantile(p, 2, 3))).toEqual([0, 0, 1, 1]);
  });
});
// Written with the digits of their source; the machine keeps the first sixteen.
/* oxlint-disable no-loss-of-precision */
// Up to 50 degrees of freedom against mpmath: tests/verify/distributions.ts.
describe("Student's quantile of very many degrees of freedom", () => {
  // mpmath 1.3.0 at 60 digits: root of the integrated density.
  const probabilities = [0.9, 0.975, 0.9957, 0.9999];
  it.each([
    [1e4, [1.2816362297304775, 1.9602012398906263, 2.628078016262686, 3.7203958691176402]],
    [1e5, [1.281560031449361, 1.9599877075346096, 2.6276106320535423, 3.7191543826413444]],
    [1e6, [1.2815524121299385, 1.959966356814107, 2.6275639022132277, 3.7190302747625434]],
    [1e9, [1.2815515663911852, 1.9599639869123255, 2.6275587152971362, 3.7190164992449417]],
    [1e12, [1.2815515655454471, 1.9599639845424265, 2.6275587101102297, 3.7190164854694698]],
    [1e15, [1.2815515655446013, 1.9599639845400566, 2.6275587101050428, 3.7190164854556944]],
    [1e18, [1.2815515655446005, 1.9599639845400542, 2.6275587101050376, 3.7190164854556806]],
  ])('has the digits of an independent computation at %d degrees', (degrees, expected) => {
    probabilities.forEach((p, i) => {
      // As tests/reference/quantiles-normal-t-chi2.json asks of fewer degrees.
      expect(Math.abs(studentQuantile(p, degrees) / expected[i]! - 1)).toBeLessThan(1e-9);
      expect(Math.abs(studentQuantile(1 - p, degrees) / expected[i]! + 1)).toBeLessThan(1e-9);
    });
  });

  it('is infinite at the ends of the distribution, and zero in its middle', () => {
    expect([0, 0.5, 1].map((p) => studentQuantile(p, 1e12))).toEqual([-Infinity, 0, Infinity]);
  });
});
