import { describe, expect, it } from 'vitest';
import { advise } from '../../shared/advice/advise.ts';
import type { CountedTrial } from '../../shared/light-off/at-setting.ts';
import { createRandom, type Random } from '../../shared/numerics/random.ts';
import { situation, trial } from './situation.ts';

const maker = { low: 1.4, high: 3.8 };
const setting = 2.4;

/** A pilot by definition: it lights with a probability that falls off logistically beyond two pressures, less with a late spark. */
function drawPilot(random: Random) {
  const low = 0.8 + 1.4 * random.uniform();
  const high = 2.7 + 1.8 * random.uniform();
  const spread = 0.02 + 0.1 * random.uniform();
  const rises = (x: number) => 1 / (1 + Math.exp(-x / spread));
  return { low, high, lights: (p: number, delay: number) => rises(p - low) * rises(high - p) * (delay > 0 ? 0.97 : 1) };
}

/** A technician who makes every trial that is advised and no other. */
function visit(seed: number, mostFailures: number) {
  const random = createRandom(seed);
  const pilot = drawPilot(random);
  const trials: CountedTrial[] = [];
  for (;;) {
    const advice = advise(
      situation({
        makerRange: maker,
        limits: { longestDelayS: 5, mostFailures },
        trials,
      }),
    );
    if (!advice.next || trials.length > 60) return { trials, advice, pilot };
    const { pressure, sparkDelay_s } = advice.next;
    trials.push(trial(pressure, random.uniform() < pilot.lights(pressure, sparkDelay_s), sparkDelay_s));
  }
}

describe.each([1, 2])(
  'a thousand simulated visits with at most %i failures a side, seeds 1 to 1000',
  (mostFailures) => {
    const visits = Array.from({ length: 1000 }, (_, i) => visit(i + 1, mostFailures));
    const side = ({ pressure }: CountedTrial) => Math.sign(Math.round((pressure - setting) * 10) / 10);

    it('keep the limits, end by themselves and fail no more often on any side or at the setting', () => {
      for (const { trials, advice } of visits) {
        expect(advice.stop).toBe(true);
        expect(trials.length).toBeLessThan(20);
        for (const { pressure } of trials) {
          expect(pressure).toBeGreaterThanOrEqual(maker.low);
          expect(pressure).toBeLessThanOrEqual(maker.high);
        }
        for (const sign of [-1, 0, 1])
          expect(trials.filter((each) => !each.lit && side(each) === sign).length).toBeLessThanOrEqual(mostFailures);
      }
    });
    it('show no more than was tried: where it is said to have lit it lit, with no failure at or inside', () => {
      for (const { trials, advice } of visits)
        for (const shown of [advice.shown.low, advice.shown.high]) {
          if (shown === undefined) continue;
          expect(trials.some(({ pressure, lit }) => lit && Math.abs(pressure - shown) < 1e-9)).toBe(true);
          const inside = trials.filter(
            ({ pressure }) =>
              (pressure - setting) * (shown - setting) >= 0 &&
              Math.abs(pressure - setting) <= Math.abs(shown - setting) + 1e-9,
          );
          expect(inside.every(({ lit }) => lit)).toBe(true);
        }
    });
    it('reach the limits of the maker where the pilot lights well beyond them', () => {
      const good = visits.filter(
        ({ pilot, trials }) => pilot.low < 1.1 && pilot.high > 4.1 && trials.every(({ lit }) => lit),
      );
      expect(good.length).toBeGreaterThan(20);
      // What is left is less than the tolerance of 0.1.
      for (const { advice } of good) {
        expect(advice.shown.low!).toBeLessThan(maker.low + 0.11);
        expect(advice.shown.high!).toBeGreaterThan(maker.high - 0.11);
      }
    });
  },
);
