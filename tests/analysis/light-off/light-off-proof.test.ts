import { describe, expect, it } from 'vitest';
import { decideAsLeft } from '../../../shared/analysis/as-left.ts';
import { describeProof, proveLightOff } from '../../../shared/analysis/light-off-proof.ts';
import { detailOf } from '../../../shared/analysis/analyze.ts';
import { study, type Study } from '../../../shared/analysis/study.ts';
import type { Trial } from '../../../shared/model/capture.ts';
import type { Setup } from '../../../shared/model/setup.ts';
import { validTrials } from '../../../shared/model/trials/valid-trials.ts';
import { drawSweep } from '../../benchmark/sweep/kinds.ts';

const { capture } = drawSweep('two shoulders', 3);
const asLeft = 2.4;
const setup: Setup = {
  ...capture.setup,
  asLeftPressure: { value: asLeft, unit: 'inH2O' },
  pressureAccuracy: { percentOfReading: 0.5, absolute: 0.01, unit: 'inH2O' },
};
const found = study({ ...capture, trials: [] }, setup);
if (!found.ok) throw new Error(found.fault.message);
const plain = found.value;
/** The same study with other trials and another plan: the sweep is judged once. */
const withTrials = (trials: object[], lightOffPlan?: Setup['lightOffPlan']): Study => ({
  ...plain,
  setup: { ...setup, ...(lightOffPlan && { lightOffPlan }) },
  trials: validTrials(trials as Trial[]),
  lightOff: { trials: trials.length, lit: trials.length, lowerBound: 0.5, contradicting: [], neverLit: false },
});
const trial = (sparkDelayS = 0, lit = true, more: object = {}): Trial => ({
  pressure: asLeft,
  unit: 'inH2O',
  sparkDelayS,
  lit,
  ...more,
});
const usual = [trial(), trial(), trial(), trial(5)];
const hasFailed = ({ lit, timeToProveS = 0 }: Trial) => !lit || timeToProveS > 10;
const answer = (studied: Study) => detailOf(studied).result;

describe('what the light-off trials prove of a setting', () => {
  it('counts within a twentieth of the width of the window, or the expanded uncertainty of the manometer', () => {
    const { low, high } = answer(plain).window;
    const width = high!.value - low!.value;
    const { atAsLeft } = proveLightOff(withTrials(usual), undefined);
    expect(atAsLeft!.tolerance).toBeCloseTo(0.05 * width, 12);
    // GUM 4.3.7 and 6.3.3: (0.5 % of 2.4 + 0.5) / root 3, twice.
    const coarse = { ...withTrials(usual) };
    coarse.setup = { ...setup, pressureAccuracy: { percentOfReading: 0.5, absolute: 0.5, unit: 'inH2O' } };
    expect(proveLightOff(coarse, undefined).atAsLeft!.tolerance).toBeCloseTo((2 * (0.012 + 0.5)) / Math.sqrt(3), 9);
  });

  it('says of a trial whose spark nobody knows that it was made, and does not count', () => {
    const unknown = { ...trial(), sparkDelayS: undefined };
    const studied = withTrials([unknown]);
    expect(describeProof(proveLightOff(studied, undefined), studied)!.counts).toBe(
      'one trial with an unknown spark delay, or a short one, not counted',
    );
  });

  it('passes with three plain trials and one delayed at the pressure as left', () => {
    const { asLeft: decided, lightOff, warnings } = answer(withTrials(usual));
    expect(decided!.decision).toBe('pass');
    expect(decided!.limitedBy).toBeUndefined();
    expect(lightOff!.planMet).toBe(true);
    expect(warnings.map(({ code }) => code)).not.toContain('light-off-not-proved');
  });

  it.each([
    ['no trials at all', { plain: 0, delayed: 0 }, []],
    ['none with the spark at once', { plain: 0, delayed: 1 }, usual],
  ])('does not pass with a plan that asks for %s, and does not call that proved', (_, plan, trials) => {
    const { asLeft: decided, lightOff, warnings } = answer(withTrials(trials, plan));
    expect(decided).toMatchObject({ decision: 'conditional-pass', limitedBy: ['light-off'] });
    expect(lightOff!.planMet).toBe(false);
    const said = warnings.filter(({ code }) => code === 'light-off-not-proved');
    expect(said).toHaveLength(1);
    expect(said[0]!.message).toMatch(/No light-off trials with the spark at once were asked for\./u);
  });

  it.each([
    ['none', [], 'no trial was made there'],
    ['no delayed one', [trial(), trial(), trial()], '1 trial with the spark delayed'],
    ['two plain ones', [trial(), trial(), trial(5)], '1 trial with the spark at once'],
    ['a failure at the end of the row', [...usual, trial(0, false)], '3 trials with the spark at once'],
    ['all at another pressure', usual.map((each) => ({ ...each, pressure: 1.6 })), 'no trial was made there'],
    ['one that was discarded', [...usual.slice(1), trial(0, true, { status: 'void' })], '1 trial with the spark at'],
    ['one proved after the trial for ignition', [...usual.slice(1), trial(0, true, { timeToProveS: 11 })], '3 trials'],
  ])('does not pass with %s, and says once what is missing', (_, trials, missing) => {
    const { asLeft: decided, warnings } = answer(withTrials(trials));
    const decision = trials.some(hasFailed) ? 'conditional-fail' : 'conditional-pass';
    expect(decided).toMatchObject({ decision, limitedBy: ['light-off'] });
    const said = warnings.filter(({ code }) => code === 'light-off-not-proved');
    expect(said).toHaveLength(1);
    expect(said[0]!.message).toContain(missing);
    expect(warnings.map(({ code }) => code)).not.toContain('few-light-offs');
  });

  it('counts a corrected trial as it was corrected', () => {
    const wrong = trial(0, false);
    const record = [wrong, trial(0, true, { corrects: 1 }), trial(), trial(), trial(5)];
    expect(answer(withTrials(record)).lightOff!.planMet).toBe(true);
    expect(answer(withTrials(record)).lightOff!.atAsLeft!.plain).toMatchObject({ trials: 3, lit: 3 });
  });

  it('says what three of three prove: at least 37 % at 95 % confidence (0.05 to the power of 1/3)', () => {
    const studied = withTrials([trial(), trial(), trial()]);
    expect(describeProof(proveLightOff(studied, undefined), studied)!.counts).toContain(
      '3 of 3: at least 37 % at 95 % confidence',
    );
  });

  it('needs 22 of 22 for a claim of 90 % at 90 % (success-run theorem), and no failure', () => {
    const claim = { probability: 0.9, confidence: 0.9, delayed: 1 };
    const row = (n: number) => [...Array.from({ length: n }, () => trial()), trial(5)];
    expect(answer(withTrials(row(22), claim)).lightOff!.planMet).toBe(true);
    expect(answer(withTrials(row(21), claim)).lightOff!.planMet).toBe(false);
    const failed = answer(withTrials([trial(0, false), ...row(22)], claim));
    expect(failed.lightOff!.planMet).toBe(false);
    expect(failed.warnings.find(({ code }) => code === 'light-off-not-proved')!.message).toContain('cannot be claimed');
  });

  it('proves the set point where nothing was recorded as left', () => {
    const { asLeftPressure: _, ...rest } = setup;
    const studied = { ...withTrials(usual), setup: rest, settings: { ...plain.settings, asLeft: undefined } };
    const at = answer(studied).setPoint!.value;
    const there = { ...studied, trials: usual.map((each) => ({ ...each, pressure: at })) };
    expect(answer(there).lightOff!.planMet).toBe(true);
    expect(answer(there).lightOff!.atAsLeft).toBeUndefined();
    expect(answer(there).lightOff!.atSetPoint!.plain).toMatchObject({ trials: 3, lit: 3 });
  });
});

describe('what limits a decision', () => {
  const low = { value: 1, ci: [1, 1] as [number, number], guarded: 1.1, cause: 'signal' as const };
  const high = { value: 4, ci: [4, 4] as [number, number], guarded: 3.9, cause: 'maker-range' as const };
  const proved = { isProved: true, hasFailed: false, neverLit: false, isDoubtful: false };

  it('is the cause of the end that the setting is too near, beside light-off', () => {
    expect(decideAsLeft(1.05, { low, high }, proved)).toEqual({
      decision: 'conditional-pass',
      limitedBy: ['signal'],
    });
    expect(decideAsLeft(5, { low, high }, { ...proved, isProved: false })).toEqual({
      decision: 'fail',
      limitedBy: ['maker-range', 'light-off'],
    });
    expect(decideAsLeft(2, { low, high }, proved)).toEqual({ decision: 'pass' });
  });

  it.each([
    [2, 'conditional-fail'],
    [1.05, 'conditional-fail'],
    [5, 'fail'],
  ])('is no pass of any kind at %f inH2O where a light-off failed there', (asLeft, decision) => {
    const failed = { isProved: false, hasFailed: true, neverLit: false, isDoubtful: false };
    expect(decideAsLeft(asLeft, { low, high }, failed)).toMatchObject({
      decision,
      limitedBy: expect.arrayContaining(['light-off']) as string[],
    });
  });

  it('is light-off after a failure at the pressure as left, until the plan is met anew', () => {
    const decisionAfter = (...trials: Trial[]) => answer(withTrials(trials)).asLeft!.decision;
    expect(decisionAfter(trial(), trial(), trial(), trial(5), trial(0, false))).toBe('conditional-fail');
    expect(decisionAfter(trial(), trial(), trial(), trial(5, false))).toBe('conditional-fail');
    expect(decisionAfter(trial(0, false), trial(), trial(), trial(), trial(5))).toBe('pass');
  });

  it('asks for no delayed spark without saying that one failed there', () => {
    const missing = (trials: Trial[]) => {
      const studied = withTrials(trials);
      return describeProof(proveLightOff(studied, undefined), studied)!.missing;
    };
    const failedLate = missing([trial(2, false), trial(), trial(), trial()]);
    expect(failedLate).toContain('1 trial with the spark delayed');
    expect(failedLate).toContain('it failed there with the spark 2.0 s after gas');
    expect(missing([trial(), trial(), trial()])).not.toContain('failed there');
    expect(missing([trial(0, false), trial(), trial(), trial()])).not.toContain('failed there');
  });
});
