import { describe, expect, it } from 'vitest';
import { advise } from '../../shared/advice/advise.ts';
import type { CountedTrial } from '../../shared/light-off/at-setting.ts';
import { type TrialMethod, trialMethods } from '../../shared/model/setup.ts';
import { createRandom } from '../../shared/numerics/random.ts';
import { met, situation, trial } from './situation.ts';

const agreed = (method: TrialMethod, mostFailures = 2) => ({ low: 1.4, high: 3.4, mostFailures, method });
const setting = 2.4;
const sideOf = ({ pressure }: CountedTrial) =>
  Math.abs(pressure - setting) <= 0.1 ? 0 : Math.sign(pressure - setting);

describe.each(trialMethods)('the test %s', (method) => {
  it('comes after the plan at the setting, and says what it looks for and what it may cost', () => {
    expect(advise(situation({ limits: agreed(method) })).next!.pressure).toBe(setting);
    const { next } = advise(situation({ limits: agreed(method), trials: met }));
    // All three begin in the middle of the way, 1 on either side.
    expect([1.9, 2.9]).toContain(next!.pressure);
    expect(next!.reason).toContain('half of the trials fail and may cost 2 failures on each side');
  });

  it('is not followed where one failure a side was agreed, and that is said', () => {
    const usual = advise(situation({ limits: { low: 1.4, high: 3.4, mostFailures: 1 }, trials: met }));
    const found = advise(situation({ limits: agreed(method, 1), trials: met }));
    expect(found.next).toEqual(usual.next);
    expect(found.notes.join(' ')).toContain('is not followed');
  });

  it('keeps limits, budget and agreed failures in a thousand simulated visits, seeds 1 to 1000', () => {
    let [outward, failures] = [0, 0];
    for (let seed = 1; seed <= 1000; seed += 1) {
      const random = createRandom(seed);
      const mostFailures = 2 + (seed % 2);
      const [low, high] = [0.8 + 1.5 * random.uniform(), 2.5 + 1.5 * random.uniform()];
      const trials: CountedTrial[] = [];
      for (;;) {
        const { next } = advise(situation({ limits: { ...agreed(method, mostFailures), longestDelayS: 5 }, trials }));
        if (!next) break;
        expect(trials.length).toBeLessThan(30);
        expect(next.pressure).toBeGreaterThanOrEqual(1.4);
        expect(next.pressure).toBeLessThanOrEqual(3.4);
        const lights = next.pressure > low && next.pressure < high && random.uniform() < 0.97;
        trials.push(trial(next.pressure, lights, next.sparkDelay_s));
      }
      for (const side of [-1, 1]) {
        const there = trials.filter((each) => sideOf(each) === side);
        expect(there.length).toBeLessThanOrEqual(2 * mostFailures);
        expect(there.filter(({ lit }) => !lit).length).toBeLessThanOrEqual(mostFailures);
        outward += there.length;
        failures += there.filter(({ lit }) => !lit).length;
      }
    }
    // Nothing would be kept if nothing were tried.
    expect(outward).toBeGreaterThan(2000);
    expect(failures).toBeGreaterThan(500);
  });
});

it('steps up and down by a quarter of the way, as Dixon and Mood do', () => {
  // The way is 1 on each side: 0.5 lit, so 0.75; that failed, so 0.5 again. The low side has no failure left.
  const tried = [...met, trial(2.9), trial(3.15, false), trial(1.9, false), trial(1.9, false)];
  expect(advise(situation({ limits: agreed('up-and-down'), trials: tried.slice(0, 5) })).candidates[0]!.pressure).toBe(
    1.9,
  );
  expect(advise(situation({ limits: agreed('up-and-down'), trials: tried })).next!.pressure).toBe(2.9);
});

it('keeps the levels of up-and-down fixed, although a pressure was missed by a hundredth', () => {
  const tried = [...met, trial(2.91), trial(3.16, false), trial(2.91), trial(1.9, false), trial(2.15, false)];
  expect(advise(situation({ limits: agreed('up-and-down'), trials: tried })).next!.pressure).toBe(3.15);
});

describe.each(trialMethods)('after a failure, the test %s', (method) => {
  it.each([
    ['not known', undefined],
    ['delayed', 5],
    ['short', 3],
  ])('goes nowhere further out, though its spark was %s', (_, sparkDelayS) => {
    const { sparkDelayS: __, ...plain } = trial(1.65, false);
    const failed = { ...plain, ...(sparkDelayS !== undefined && { sparkDelayS }) };
    const found = advise(situation({ limits: agreed(method, 3), trials: [...met, trial(1.9), failed] }));
    const low = found.candidates.filter(({ side, pressure }) => side === 'low' && pressure <= 1.65);
    expect(low).toEqual([]);
  });
});

describe('a test of the threshold that is over', () => {
  const ended = (...trials: CountedTrial[]) =>
    advise(situation({ limits: agreed('up-and-down', 3), trials: [...met, ...trials] }));
  it('says where half of the trials fail', () => {
    // Two of three lit at the inner level, one of three at the outer one: by symmetry half fail midway, at 1.775 and 3.025.
    const tried = (inner: number, outer: number) =>
      [true, true, false].flatMap((lit) => [trial(inner, lit), trial(outer, !lit)]);
    const { stop, reason } = ended(...tried(1.9, 1.65), ...tried(2.9, 3.15));
    expect(stop).toBe(true);
    expect(reason).toMatch(/estimated to fail at about 1\.7[78] inH2O, from 6 trials/u);
    expect(reason).toMatch(/estimated to fail at about 3\.0[23] inH2O, from 6 trials/u);
  });
  it('says that it lit at the limit each time, and asks for no more there', () => {
    const out = [1.9, 1.65, 1.4, 1.4].map((p) => trial(p));
    const up = [2.9, 3.15, 3.4, 3.4].map((p) => trial(p));
    const { stop, reason } = ended(...out, ...up);
    expect(stop).toBe(true);
    expect(reason).toContain('it lit at the limit each time');
    expect(reason).toContain('None failed, so where half of them fail was not found.');
  });
  it('does not say that trials were made which were not', () => {
    const { stop, reason } = ended(trial(1.9, false), trial(2.15, false), trial(2.9, false), trial(2.65, false));
    expect(stop).toBe(true);
    expect(reason).not.toContain('the trials of the test are made');
    expect(reason).toContain('the next level of the test is the setting itself');
    expect(reason).toContain('None lit, so where half of them fail was not found.');
  });
});
