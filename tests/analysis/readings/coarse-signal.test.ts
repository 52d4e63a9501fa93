import { describe, expect, it } from 'vitest';
import { createRandom } from '../../../shared/numerics/random.ts';
import { answer } from '../answer.ts';
import { sweepWith, twoShoulders } from '../synthetic-sweep.ts';

// By the definition of the curve it falls to 90 % of its plateau where a logistic is 0.9: ln 9 widths inside each middle.
const [low, high] = [1 + 0.08 * Math.log(9), 4 - 0.1 * Math.log(9)];

describe('a signal meter with coarse digits', () => {
  it.each([0.1, 0.25, 0.3, 0.5])(
    'in steps of %s V: the intervals hold both ends, whose requirement is a share of a rounded plateau',
    (digit) => {
      for (const seed of [1, 2, 3]) {
        const random = createRandom(seed);
        const rounded = (p: number) => digit * Math.round((twoShoulders(p) + 0.02 * random.normal()) / digit);
        const { result } = answer(sweepWith(rounded, { seed }));
        expect(result.signalInterval.low!.ci[0]).toBeLessThanOrEqual(low);
        expect(result.signalInterval.low!.ci[1]).toBeGreaterThanOrEqual(low);
        expect(result.signalInterval.high!.ci[0]).toBeLessThanOrEqual(high);
        expect(result.signalInterval.high!.ci[1]).toBeGreaterThanOrEqual(high);
      }
    },
  );
});
