import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  fallsOff,
  fitLighting,
  probabilityAt,
  reachOf,
  type TriedPoint,
} from '../../shared/light-off/lighting-model.ts';

const tried = (pressure: number, delayS: number, lit: number, notLit: number): TriedPoint[] => [
  ...Array.from({ length: lit }, () => ({ pressure, delayS, lit: true })),
  ...Array.from({ length: notLit }, () => ({ pressure, delayS, lit: false })),
];
// Quantile of chi-square with one degree of freedom: the square of 1.959964.
const chiSquare95 = 3.841458820694124;

/** Penalized log-likelihood of one binomial. */
const height = (k: number, n: number, p: number) => (k + 0.5) * Math.log(p) + (n - k + 0.5) * Math.log(1 - p);

const add = (a: number, b: number) => a + b;
/** Probability of 0, 1, ... of `n` trials lighting, each with probability `p`. */
const binomial = (n: number, p: number): number[] => {
  const ways = (k: number): number => (k === 0 ? 1 : (ways(k - 1) * (n - k + 1)) / k);
  return Array.from({ length: n + 1 }, (_, k) => ways(k) * p ** k * (1 - p) ** (n - k));
};

describe('the lighting model', () => {
  it('is (k + 1/2) / (n + 1) with the exact interval of its count where all trials were at one pressure', () => {
    const answer = probabilityAt(fitLighting(tried(2.4, 0, 5, 2), 'high')!, 2.4, 0, 0.95)!;
    expect(answer.probability).toBeCloseTo(5.5 / 8, 9);
    // By definition: five or more of seven have a probability of 0.025 at the lower end, five or fewer at the upper one.
    const [low, high] = answer.interval;
    expect(binomial(7, low).slice(5).reduce(add)).toBeCloseTo(0.025, 9);
    expect(binomial(7, high).slice(0, 6).reduce(add)).toBeCloseTo(0.025, 9);
  });

  it.each([1, 2, 3, 5, 10])('of %i trials at one pressure holds any truth at least as often as it says', (count) => {
    const intervals = Array.from(
      { length: count + 1 },
      (_, lit) => probabilityAt(fitLighting(tried(2.4, 0, lit, count - lit), 'high')!, 2.4, 0, 0.95)?.interval,
    );
    for (let truth = 0.005; truth < 1; truth += 0.005) {
      // Where it claims nothing it claims nothing false.
      const held = binomial(count, truth).filter((_, lit) => {
        const [low, high] = intervals[lit] ?? [0, 1];
        return low <= truth && truth <= high;
      });
      expect(held.reduce(add, 0)).toBeGreaterThanOrEqual(0.95);
    }
  });

  it('claims nothing where all lit or none: the count alone says what that proves', () => {
    for (const trials of [tried(2.4, 0, 3, 0), [...tried(2.4, 0, 3, 0), ...tried(3, 0, 1, 0)], tried(2.4, 0, 0, 2)])
      expect(probabilityAt(fitLighting(trials, 'high')!, 2.4, 0, 0.95)).toBeUndefined();
  });

  it('is not bounded from above inside of all failures, nor from below outside of all that lit', () => {
    const trials = [...tried(2.4, 0, 4, 0), ...tried(3, 0, 1, 1), ...tried(3.6, 0, 0, 2)];
    const at = (pressure: number, side: 'low' | 'high') =>
      probabilityAt(fitLighting(trials, side)!, pressure, 0, 0.95)!.interval;
    expect(at(2.4, 'high')[1]).toBe(1);
    expect(at(2.4, 'high')[0]).toBeGreaterThan(0.3);
    expect(at(3, 'high')[0]).toBeGreaterThan(0);
    expect(at(3, 'high')[1]).toBeLessThan(1);
    expect(at(3.6, 'high')[0]).toBe(0);
    expect(at(3.6, 'high')[1]).toBeLessThan(0.9);
    // On a low side the failures lie inside of the others, and what lit outside of them.
    expect(at(2.4, 'low')[1]).toBeLessThan(1);
    expect(at(3.6, 'low')[0]).toBeGreaterThan(0);
  });

  it('is (k + 1/2) / (n + 1) at each of three points that it tells apart, separated or not', () => {
    const fit = fitLighting([...tried(2, 0, 4, 0), ...tried(3, 0, 0, 2), ...tried(2, 5, 2, 1)], 'high')!;
    expect(probabilityAt(fit, 2, 0, 0.95)!.probability).toBeCloseTo(4.5 / 5, 8);
    expect(probabilityAt(fit, 3, 0, 0.95)!.probability).toBeCloseTo(0.5 / 3, 8);
    expect(probabilityAt(fit, 2, 5, 0.95)!.probability).toBeCloseTo(2.5 / 4, 8);
  });

  it('says nothing of a pressure, a delay or a pair of both that no trials surround', () => {
    const fit = fitLighting([...tried(2, 0, 2, 0), ...tried(3, 0, 1, 1), ...tried(2, 5, 1, 0)], 'high')!;
    expect(probabilityAt(fit, 2.5, 2, 0.95)).toBeDefined();
    for (const [pressure, delayS] of [
      [1.9, 0],
      [3.1, 0],
      [2, 5.1],
      [3, 5],
    ] as const)
      expect(probabilityAt(fit, pressure, delayS, 0.95)).toBeUndefined();
  });

  it('says nothing without trials', () => expect(fitLighting([], 'low')).toBeUndefined());

  it('does not tell pressure and delay apart where they changed together, and says so by having no fit', () =>
    expect(fitLighting([...tried(2, 0, 1, 0), ...tried(2.5, 2, 1, 0), ...tried(3, 4, 0, 1)], 'high')).toBeUndefined());

  // Two pressures make two binomials; without a slope they are one, the penalty of both kept.
  it('falls off exactly where the likelihood ratio of two pressures against one probability says so', () => {
    const count = fc.integer({ min: 0, max: 12 });
    fc.assert(
      fc.property(count, count, count, count, (litIn, failedIn, litOut, failedOut) => {
        const [nIn, nOut] = [litIn + failedIn, litOut + failedOut];
        fc.pre(nIn > 0 && nOut > 0);
        const shares = [(litIn + 0.5) / (nIn + 1), (litOut + 0.5) / (nOut + 1)] as const;
        const both = (litIn + litOut + 1) / (nIn + nOut + 2);
        const ratio =
          2 *
          (height(litIn, nIn, shares[0]) +
            height(litOut, nOut, shares[1]) -
            height(litIn, nIn, both) -
            height(litOut, nOut, both));
        fc.pre(Math.abs(ratio - chiSquare95) > 1e-6);
        const expected = shares[1] < shares[0] && ratio > chiSquare95;
        const trials = [...tried(2.4, 0, litIn, failedIn), ...tried(3.1, 0, litOut, failedOut)];
        expect(fallsOff(fitLighting(trials, 'high')!, 0.95)).toBe(expected);
        const mirrored = trials.map((trial) => ({ ...trial, pressure: 4.8 - trial.pressure }));
        expect(fallsOff(fitLighting(mirrored, 'low')!, 0.95)).toBe(expected);
      }),
      { numRuns: 60, seed: 11 },
    );
  });

  it('reaches a probability where the line between two logits crosses it, at most to the outermost pressure', () => {
    const logit = (p: number) => Math.log(p / (1 - p));
    const fit = fitLighting([...tried(2.4, 0, 15, 0), ...tried(3.4, 0, 1, 6)], 'high')!;
    const [inner, outer] = [logit(15.5 / 16), logit(1.5 / 8)];
    expect(reachOf(fit, 0.9)).toBeCloseTo(2.4 + (inner - logit(0.9)) / (inner - outer), 8);
    expect(reachOf(fit, 0.15)).toBe(3.4);
    expect(reachOf(fit, 0.99)).toBeUndefined();
    const low = fitLighting([...tried(2.4, 0, 15, 0), ...tried(1.4, 0, 1, 6)], 'low')!;
    expect(reachOf(low, 0.9)).toBeCloseTo(2.4 - (inner - logit(0.9)) / (inner - outer), 8);
  });

  it('reaches nothing by trials of which none sparked at once', () =>
    expect(reachOf(fitLighting(tried(2.4, 5, 9, 0), 'high')!, 0.5)).toBeUndefined());
});
