import { describe, expect, it } from 'vitest';
import { boundWords } from '../../shared/light-off/count-words.ts';
import { type CountedTrial, lightOffAt, sparkTiming, toleranceAt } from '../../shared/light-off/at-setting.ts';
import { planProgress, usualPlan } from '../../shared/light-off/plan.ts';

const trial = (
  pressure: number,
  lit = true,
  sparkDelayS: number | 'unknown' = 0,
  more: Partial<CountedTrial> = {},
): CountedTrial => ({ pressure, unit: 'inH2O', lit, ...(sparkDelayS !== 'unknown' && { sparkDelayS }), ...more });
const setting = { unit: 'inH2O', pressure: 2.4, tolerance: 0.11 } as const;

describe('what trials prove at a setting', () => {
  it('counts only those within the tolerance, at its very edge too', () => {
    const found = lightOffAt([trial(2.4), trial(2.51), trial(2.29), trial(2.52), trial(1.4, false)], setting, 10, 0.95);
    expect(found.plain).toMatchObject({ trials: 3, lit: 3 });
  });
  it('says what 3 of 3 prove: at least 37 % at 95 % (Clopper-Pearson: 0.05 to the power of 1/3)', () => {
    const found = lightOffAt([trial(2.4), trial(2.4), trial(2.4)], setting, 10, 0.95);
    expect(found.plain.lowerBound).toBeCloseTo(0.05 ** (1 / 3), 10);
    expect(found.delayed).toEqual({ trials: 0, lit: 0, lowerBound: 0 });
  });
  it('says what 10 of 10 prove: at least 74 % at 95 % (printed in tables of exact binomial bounds)', () => {
    const ten = Array.from({ length: 10 }, () => trial(2.4));
    expect(lightOffAt(ten, setting, 10, 0.95).plain.lowerBound).toBeCloseTo(0.741, 3);
  });
  it('keeps plain and delayed apart, and an unknown or early spark out of both', () => {
    expect(sparkTiming(0, 10)).toBe('plain');
    expect(sparkTiming(5, 10)).toBe('delayed');
    expect(sparkTiming(4.9, 10)).toBe('between');
    expect(sparkTiming(undefined, 10)).toBe('unknown');
    const found = lightOffAt(
      [trial(2.4), trial(2.4, true, 5), trial(2.4, true, 7), trial(2.4, true, 3), trial(2.4, true, 'unknown')],
      setting,
      10,
      0.95,
    );
    expect(found.plain).toMatchObject({ trials: 1, lit: 1 });
    expect(found.delayed).toMatchObject({ trials: 2, lit: 2, longestDelay_s: 7 });
  });
  it('does not count a flame that was proved after the trial as lit', () => {
    const found = lightOffAt([trial(2.4, true, 0, { timeToProveS: 10.4 })], setting, 10, 0.95);
    expect(found.plain).toEqual({ trials: 1, lit: 0, lowerBound: 0 });
  });
  it('takes the larger of a twentieth of the window and the expanded uncertainty of the manometer', () => {
    expect(toleranceAt(2.2, 0.03)).toBeCloseTo(0.11, 12);
    expect(toleranceAt(0.4, 0.03)).toBe(0.03);
  });
});

describe('the light-off plan', () => {
  const delayed = trial(2.4, true, 5);
  const plain = trial(2.4);
  const failure = trial(2.4, false);
  it('is met by three plain and one delayed in a row', () => {
    expect(planProgress(usualPlan, [plain, plain, delayed, plain], setting, 10)).toEqual({
      plain: { wanted: 3, got: 3 },
      delayed: { wanted: 1, got: 1 },
      failed: false,
      met: true,
    });
  });
  it('leaves a failure at the setting open until it is met anew', () => {
    const open = (trials: CountedTrial[]) => planProgress(usualPlan, trials, setting, 10).failed;
    expect(open([plain, plain, plain, delayed, failure])).toBe(true);
    expect(open([failure, plain, plain, plain])).toBe(true);
    expect(open([failure, plain, plain, plain, delayed])).toBe(false);
    expect(open([plain, trial(1.2, false)])).toBe(false);
  });
  it('starts anew after any failure at the setting', () => {
    const found = planProgress(usualPlan, [plain, plain, plain, failure, delayed], setting, 10);
    expect(found).toMatchObject({ plain: { got: 0 }, delayed: { got: 1 }, met: false });
  });
  it('is not set back by a failure elsewhere', () => {
    expect(planProgress(usualPlan, [plain, plain, trial(1.2, false), plain, delayed], setting, 10).met).toBe(true);
  });
  it('goes by the time of the trials, not by their order in a file', () => {
    const at = (elapsedS: number, one: CountedTrial) => ({ ...one, elapsedS });
    const trials = [at(400, failure), at(100, plain), at(200, plain), at(300, plain), at(350, delayed)];
    expect(planProgress(usualPlan, trials, setting, 10)).toMatchObject({ plain: { got: 0 }, met: false });
  });
  it('as a claim of 90 % at 90 % asks for 22 of 22 (success-run theorem), and forgives no failure', () => {
    const claim = { probability: 0.9, confidence: 0.9, delayed: 1 };
    const many = Array.from({ length: 22 }, () => plain);
    expect(planProgress(claim, [...many.slice(1), delayed], setting, 10)).toMatchObject({
      plain: { wanted: 22, got: 21 },
      met: false,
    });
    expect(planProgress(claim, [...many, delayed], setting, 10).met).toBe(true);
    expect(planProgress(claim, [failure, ...many, delayed], setting, 10)).toMatchObject({ failed: true, met: false });
  });
});

describe('what trials at a setting prove, in a line', () => {
  it('says of how many, where one failed: the row of the plan counts only those since', () => {
    // One-sided 95 % Clopper-Pearson bounds: 0.05 to the power of 1 and of 1/3, and the 5 % quantile of beta(3, 2), 0.2486.
    const all = { trials: 3, lit: 3, lowerBound: 0.3684 };
    const one = { trials: 1, lit: 1, lowerBound: 0.05 };
    expect(boundWords({ plain: all, delayed: one }, 0.95)).toBe(
      'proves at least 37 % with the spark at once and 5 % with it delayed, at 95 % confidence',
    );
    expect(boundWords({ plain: { trials: 4, lit: 3, lowerBound: 0.2486 }, delayed: one }, 0.95)).toBe(
      'proves at least 25 % with the spark at once (3 of 4 lit) and 5 % with it delayed, at 95 % confidence',
    );
    expect(
      boundWords({ plain: { trials: 1, lit: 0, lowerBound: 0 }, delayed: { ...one, trials: 0, lit: 0 } }, 0.95),
    ).toBe(undefined);
  });
});
