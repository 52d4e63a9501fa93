import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { advise } from '../../shared/advice/advise.ts';
import { trialMethods } from '../../shared/model/setup.ts';
import type { Situation } from '../../shared/advice/situation.ts';
import { situation, trial } from './situation.ts';

const pressure = fc.double({ min: 0.2, max: 6, noNaN: true });
const range = fc.tuple(pressure, pressure).map(([a, b]) => ({ low: Math.min(a, b), high: Math.max(a, b) }));
const trials = fc.array(fc.record({ at: pressure, lit: fc.boolean(), delay: fc.constantFrom(0, 3, 5, 8, undefined) }), {
  maxLength: 12,
});

describe('the advised trial', () => {
  it('is never outside maker, agreed limits, sweep and guarded window, never later than agreed, never on a closed side', () => {
    const anything = fc.record({
      setting: pressure,
      window: range,
      tested: range,
      maker: fc.option(range, { nil: undefined }),
      agreed: fc.option(range, { nil: undefined }),
      longestDelayS: fc.constantFrom(undefined, 2, 5, 8),
      mostFailures: fc.integer({ min: 1, max: 3 }),
      method: fc.constantFrom(undefined, ...trialMethods),
      tried: trials,
    });
    let advised = 0;
    fc.assert(
      fc.property(anything, (drawn) => {
        const { maker, agreed, window, tested, longestDelayS, mostFailures, method, tried } = drawn;
        const tolerance = 0.05;
        const given: Situation = situation({
          setting: { pressure: drawn.setting, tolerance, words: 'the set point' },
          window: { ...window, guarded: window },
          tested,
          ...(maker && { makerRange: maker }),
          limits: {
            ...agreed,
            ...(longestDelayS !== undefined && { longestDelayS }),
            mostFailures,
            ...(method && { method }),
          },
          trials: tried.map(({ at, lit, delay }) => trial(at, lit, delay)),
        });
        const { next, stop, candidates } = advise(given);
        expect(stop).toBe(next === null);
        if (!maker && !agreed) expect(next).toBeNull();
        for (const each of next ? [next, ...candidates] : []) {
          advised += 1;
          for (const limit of [maker, agreed, window, tested])
            if (limit) {
              expect(each.pressure).toBeGreaterThanOrEqual(limit.low);
              expect(each.pressure).toBeLessThanOrEqual(limit.high);
            }
          expect(each.sparkDelay_s).toBeLessThanOrEqual(longestDelayS ?? 0);
          const away = each.pressure - drawn.setting;
          if (Math.abs(away) <= tolerance) continue;
          const failed = tried.filter(
            ({ at, lit }) => !lit && (at - drawn.setting) * away > tolerance * Math.abs(away),
          );
          expect(failed.length).toBeLessThan(mostFailures);
          // A test of the threshold may go back to where it failed, as far as failures were agreed.
          if (method && mostFailures > 1) continue;
          for (const { at } of failed) expect(Math.abs(away)).toBeLessThan(Math.abs(at - drawn.setting));
        }
      }),
      { seed: 20, numRuns: 20_000 },
    );
    // The property says nothing of situations in which nothing is advised.
    expect(advised).toBeGreaterThan(500);
  });
});
