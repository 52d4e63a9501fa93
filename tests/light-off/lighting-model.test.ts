import { describe, expect, it } from 'vitest';
import { fitLighting, probabilityAt, type TriedPoint } from '../../shared/light-off/lighting-model.ts';

const tried = (pressure: number, delayS: number, lit: number, notLit: number): TriedPoint[] => [
  ...Array.from({ length: lit }, () => ({ pressure, delayS, lit: true })),
  ...Array.from({ length: notLit }, () => ({ pressure, delayS, lit: false })),
];
const chiSquare95 = 3.841458820694124;

/** Where the penalized log-likelihood of one binomial, (k + 1/2) log p + (n - k + 1/2) log(1 - p), is half a quantile below its top. */
function intervalOf(k: number, n: number): [number, number] {
  const height = (p: number) => (k + 0.5) * Math.log(p) + (n - k + 0.5) * Math.log(1 - p);
  const best = (k + 0.5) / (n + 1);
  const end = (outside: number) => {
    let [inner, outer] = [best, outside];
    for (let i = 0; i < 100; i += 1) {
      const middle = (inner + outer) / 2;
      if (2 * (height(best) - height(middle)) > chiSquare95) outer = middle;
      else inner = middle;
    }
    return inner;
  };
  return [end(0), end(1)];
}

describe('the lighting model', () => {
  it('is (k + 1/2) / (n + 1) with its likelihood interval where all trials were at one pressure', () => {
    const answer = probabilityAt(fitLighting(tried(2.4, 0, 3, 0))!, 2.4, 0, 0.95)!;
    expect(answer.probability).toBeCloseTo(3.5 / 4, 9);
    expect(answer.interval[0]).toBeCloseTo(intervalOf(3, 3)[0], 7);
    expect(answer.interval[1]).toBeCloseTo(intervalOf(3, 3)[1], 7);
  });

  it('is (k + 1/2) / (n + 1) at each of three points that it tells apart, separated or not', () => {
    const fit = fitLighting([...tried(2, 0, 4, 0), ...tried(3, 0, 0, 2), ...tried(2, 5, 2, 1)])!;
    expect(probabilityAt(fit, 2, 0, 0.95)!.probability).toBeCloseTo(4.5 / 5, 8);
    expect(probabilityAt(fit, 3, 0, 0.95)!.probability).toBeCloseTo(0.5 / 3, 8);
    expect(probabilityAt(fit, 2, 5, 0.95)!.probability).toBeCloseTo(2.5 / 4, 8);
  });

  it('says nothing of a pressure, a delay or a pair of both that no trials surround', () => {
    const fit = fitLighting([...tried(2, 0, 2, 0), ...tried(3, 0, 2, 0), ...tried(2, 5, 1, 0)])!;
    expect(probabilityAt(fit, 2.5, 2, 0.95)).toBeDefined();
    for (const [pressure, delayS] of [
      [1.9, 0],
      [3.1, 0],
      [2, 5.1],
      [3, 5],
    ] as const)
      expect(probabilityAt(fit, pressure, delayS, 0.95)).toBeUndefined();
  });

  it('says nothing without trials', () => expect(fitLighting([])).toBeUndefined());

  it('does not tell pressure and delay apart where they changed together, and says so by having no fit', () =>
    expect(fitLighting([...tried(2, 0, 1, 0), ...tried(2.5, 2, 1, 0), ...tried(3, 4, 0, 1)])).toBeUndefined());
});
