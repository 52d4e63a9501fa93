import { describe, expect, it } from 'vitest';
import { reference } from '../../verify/check.ts';
import { dixonMood } from '../../verify/dixon-mood.ts';
import { nextNeyer } from '../../../shared/light-off/sensitivity/neyer.ts';
import { fitProbit } from '../../../shared/light-off/sensitivity/probit.ts';
import { nextUpAndDown, type Response } from '../../../shared/light-off/sensitivity/up-and-down.ts';

// The published and computed traces are checks of `npm run verify` (tests/verify/sensitivity.ts).
const run = (...responded: boolean[]): Response[] => responded.map((one, i) => ({ level: i, responded: one }));

describe('the tests of a threshold', () => {
  it('step up and down as the levels of a published run do', () => {
    const { inputs } = reference<{ levels: number[]; go: number[]; step: number }, unknown>('updown-simulated-60');
    inputs.levels.slice(0, -1).forEach((level, i) => {
      const next = nextUpAndDown({ level, responded: inputs.go[i] === 1 }, inputs.step);
      expect(next).toBeCloseTo(inputs.levels[i + 1]!, 9);
    });
  });

  it('say nothing of a threshold that nothing crossed', () => {
    expect(dixonMood(run(false, false, false), 1)).toBeUndefined();
    // Separated: the deviation of greatest likelihood is zero.
    expect(fitProbit(run(false, false, true, true))).toBeUndefined();
  });

  // The two levels of the D-optimal design of a probit model lie where z is 1.138 (Neyer 1994).
  it('go to 1.138 deviations from the mean where many trials overlap evenly', () => {
    const even = Array.from({ length: 200 }, (_, i) => {
      const z = i % 2 === 0 ? 1.138 : -1.138;
      // The probability at 1.138 is 0.8724: 87 of a hundred, and 13 on the other side.
      const rank = Math.floor(i / 2);
      return { level: z, responded: z > 0 ? rank < 87 : rank < 13 };
    });
    expect(Math.abs(nextNeyer(even, { low: -3, high: 3, sigma: 1 }))).toBeCloseTo(1.138, 1);
  });
});
