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
