import { describe, expect, it } from 'vitest';
import { warningCodes, warning } from '../../shared/analysis/warnings/warnings.ts';
import { detailOf } from '../../shared/analysis/analyze.ts';
import { provisionalReasons } from '../../shared/analysis/provisional.ts';
import { study } from '../../shared/analysis/study.ts';
import type { Capture } from '../../shared/model/capture.ts';
import { answer } from './answer.ts';
import { endInterval, endIntervalLine } from '../../shared/report/end-interval.ts';
import {
  decisionSentence,
  isLightOffUnclear,
  reasonForNone,
  reasonForProvisional,
  statusSentence,
} from '../../shared/report/labels.ts';
import { sweepWith, twoShoulders } from './synthetic-sweep.ts';
import { goodPilot, record, sweepDownAndUp, twoSweeps } from './burner-by-hand.ts';

const resultOf = (capture: Capture) => answer(capture).result;
describe('an answer is never more confident than its evidence', () => {
  it('is provisional, with the reason first, where two sweeps contradict each other', () => {
    const asLeft = { setup: { asLeftPressure: { value: 2.4, unit: 'inH2O' as const } } };
    const result = resultOf({ ...twoSweeps(3.2), ...asLeft });
    expect(result.warnings[0]!.code).toBe('sweeps-contradict');
    if (result.setPoint) expect(result.setPoint.provisional).toBe(true);
    expect(result.asLeft!.decision).not.toBe('pass');
  });

  it('says nothing of that where two sweeps agree', () => {
    const result = resultOf(twoSweeps(goodPilot.high));
    expect(result.warnings.map(({ code }) => code)).not.toContain('sweeps-contradict');
    expect(result.setPoint!.provisional).toBe(false);
  });

  it('is provisional where gas flow is split and no fan-only pressure is known, and not where it was measured', () => {
    const lit = record({ ...goodPilot, setup: { setPointRule: 'equal-flow' } }, sweepDownAndUp);
    expect(resultOf(lit).setPoint!.provisional).toBe(true);
    const shut = record({ ...goodPilot, setup: { setPointRule: 'equal-flow' } }, [
      ...sweepDownAndUp,
      { seconds: 20, valve: 'shut' },
    ]);
    expect(resultOf(shut).fanOnlyPressure!.basis).toBe('measured');
    expect(resultOf(shut).setPoint!.provisional).toBe(false);
    expect(resultOf({ ...lit, setup: {} }).setPoint!.provisional).toBe(false);
  });

  it.each([
    ['the spark delayed', { pressure: 2.3, sparkDelayS: 5, lit: false }, true],
    ['the spark delayed, 0.01 inH2O away', { pressure: 2.31, sparkDelayS: 5, lit: false }, true],
    ['at 3.3 inH2O', { pressure: 3.3, sparkDelayS: 0, lit: false }, false],
  ])('has no set point where a trial failed amid the signal at a pressure that lit: failed with %s', (_, trial, is) => {
    const tried = [2.3, 2.3, 2.31].map((pressure) => ({ pressure, sparkDelayS: 0, lit: true }));
    const trials = [...tried, trial].map((one) => ({ ...one, unit: 'inH2O' as const }));
    const { result } = answer({ ...record(goodPilot, sweepDownAndUp), trials });
    expect(result.setPoint === undefined).toBe(is);
    expect(isLightOffUnclear(result)).toBe(is);
    expect(reasonForNone(result).includes('lit and failed')).toBe(is);
    expect(statusSentence(result).text.includes('no set point')).toBe(is);
  });

  it('says once that a trial failed at a setting that lit, although others lit below and above', () => {
    const tried = [1.6, 2.3, 3.2].map((pressure) => ({ pressure, sparkDelayS: 0, lit: true }));
    const trials = [...tried, { ...tried[1]!, lit: false }].map((one) => ({ ...one, unit: 'inH2O' as const }));
    const { result } = answer({ ...record(goodPilot, sweepDownAndUp), trials });
    const saying = result.warnings.filter(({ message }) => /fail/u.test(message) && message.includes('2.30'));
    expect(saying.map(({ code }) => code)).toEqual(['light-off-unclear']);
  });

  it('counts the trials at the pressure as left within a twentieth of the signal interval where they contradict each other', () => {
    // Together the trials leave the window a hundredth of an inch.
    const made = [
      { pressure: 2.5, lit: true },
      { pressure: 2.52, lit: true },
      { pressure: 2.53, lit: false },
      { pressure: 2.54, lit: true },
    ];
    const trials = made.map((one) => ({ sparkDelayS: 0, ...one, unit: 'inH2O' as const }));
    const visit = { ...record(goodPilot, sweepDownAndUp), trials };
    const { result } = answer({ ...visit, setup: { asLeftPressure: { value: 2.47, unit: 'inH2O' } } });
    expect(result.lightOff!.atAsLeft!.plain).toMatchObject({ trials: 4, lit: 3 });
  });

  it.each([
    ['amid the signal', 3.2],
    ['near its end', 3.4],
  ])(
    'counts trials within a twentieth of the window that is shown, where one pressure lit and failed %s',
    (_, both) => {
      const made = [
        { pressure: 2.5 },
        { pressure: 2.6 },
        { pressure: 2.6 },
        { pressure: 2.5, sparkDelayS: 5 },
        { pressure: both },
        { pressure: both, sparkDelayS: 5, lit: false },
      ];
      const trials = made.map((one) => ({ sparkDelayS: 0, lit: true, ...one, unit: 'inH2O' as const }));
      const visit = { ...record(goodPilot, sweepDownAndUp), trials };
      const { result } = answer({ ...visit, setup: { asLeftPressure: { value: 2.5, unit: 'inH2O' } } });
      const { low, high } = result.window;
      // Failing at a pressure that lit, it is not known to light beyond 2.6: a window of some 1.4 in, 0.07 on either side of as-left.
      expect(high!.value).toBe(2.6);
      expect(result.lightOff!.atAsLeft!.tolerance).toBeCloseTo((high!.value - low!.value) / 20, 9);
      expect(result.lightOff!.atAsLeft!.plain.trials).toBe(1);
      expect(result.lightOff!.planMet).toBe(false);
    },
  );

  it.each([
    ['at one pressure near an end', [1.7, true], [1.7, false], /lit and failed at the same pressure/u],
    ['between pressures that lit', [2.4, true], [3.2, false], /failed between pressures that lit/u],
  ] as const)('is provisional, with a set point, where a light-off failed %s', (_, lit, failed, why) => {
    const made = [lit, failed, [3.5, true], [2.6, true]] as const;
    const trials = made.map(([pressure, isLit]) => ({ pressure, unit: 'inH2O' as const, sparkDelayS: 0, lit: isLit }));
    const { result } = answer({ ...record(goodPilot, sweepDownAndUp), trials });
    expect(result.setPoint!.provisional).toBe(true);
    expect(isLightOffUnclear(result)).toBe(false);
    expect(reasonForProvisional(result)).toMatch(why);
  });

  it.each([
    ['only at the setting', [2.5], true],
    ['out to beyond the set point', [2.5, 3.4], false],
  ])(
    'is provisional after a failure below all that lit where it lit %s, and calls nothing a contradiction',
    (_, lit, is) => {
      // Below the signal's low end of 1.1. The light-off end is 2.5 by definition, so the set point lies near 3.2.
      const made = [...[2.5, 2.5, ...lit].map((at) => [at, 0, true]), [2.5, 5, true], [0.9, 0, false]] as const;
      const trials = made.map(([pressure, sparkDelayS, isLit]) => ({
        pressure: pressure as number,
        unit: 'inH2O' as const,
        sparkDelayS: sparkDelayS as number,
        lit: isLit as boolean,
      }));
      const visit = { ...record(goodPilot, sweepDownAndUp), trials };
      const pressureAccuracy = { percentOfReading: 0.5, absolute: 0.01, unit: 'inH2O' as const };
      const setup = { asLeftPressure: { value: 2.5, unit: 'inH2O' as const }, pressureAccuracy };
      const result = resultOf({ ...visit, setup });
      expect(result.window.low).toMatchObject({ value: 2.5, cause: 'light-off' });
      expect(result.lightOff!.planMet).toBe(true);
      expect(decisionSentence(result.asLeft!, result.lightOff)).not.toMatch(/contradict/u);
      expect(decisionSentence(result.asLeft!, result.lightOff)).toMatch(/Light-off trials set that end\.$/u);
      expect(result.setPoint!.value).toBeGreaterThan(3.1);
      expect(result.setPoint!.provisional).toBe(is);
      if (is) expect(reasonForProvisional(result)).toMatch(/none lit near the set point/u);
    },
  );

  it.each([
    ['and nothing since', [], true],
    ['and the whole plan since', [0, 0, 0, 5], false],
  ])('has no set point where a trial failed amid the signal, at a setting that lit, %s', (_, since, is) => {
    // A hundredth of the window's width apart, which is one setting, and farther out.
    const made = [
      { pressure: 2.6, lit: true },
      { pressure: 2.5, lit: false },
      { pressure: 2.52, lit: true },
      ...since.map((sparkDelayS) => ({ pressure: 2.51, sparkDelayS, lit: true })),
    ];
    const trials = made.map((one) => ({ sparkDelayS: 0, ...one, unit: 'inH2O' as const }));
    const { result } = answer({ ...record(goodPilot, sweepDownAndUp), trials });
    expect(isLightOffUnclear(result)).toBe(is);
    expect(result.setPoint === undefined).toBe(is);
  });

  it.each([
    ['lit there', true, 'pass', /inside the window by more/u],
    ['failed there', false, 'conditional-pass', /contradict each other elsewhere/u],
  ] as const)(
    'passes a setting with the plan met only where a trial amid the signal, at one that lit, %s',
    (_, lit, is, why) => {
      const made = [0, 0, 0, 5].map((sparkDelayS) => ({ pressure: 2.1, sparkDelayS, lit: true }));
      const amid = [true, lit].map((each) => ({ pressure: 2.6, sparkDelayS: 0, lit: each }));
      const trials = [...made, ...amid].map((one) => ({ ...one, unit: 'inH2O' as const }));
      const visit = { ...record(goodPilot, sweepDownAndUp), trials };
      const { asLeft, lightOff } = resultOf({ ...visit, setup: { asLeftPressure: { value: 2.1, unit: 'inH2O' } } });
      expect(lightOff!.planMet).toBe(true);
      expect(asLeft!.decision).toBe(is);
      expect(decisionSentence(asLeft!, lightOff)).toMatch(why);
    },
  );

  // The usual plan, three at once and one delayed in a row, after a failure at the setting. "Any failure starts the row anew", but a row
  // with a spark after 5 s shows nothing of one after 8 s.
  it.each([
    ['at once', 0, 5, 'pass', /A light-off failed there before; the light-off plan has been met since/u],
    ['as late as one that lit since', 5, 5, 'pass', /A light-off failed there before/u],
    ['later than any that lit since', 8, 5, 'conditional-pass', /a light-off failed there/u],
    ['answered by one as late', 8, 8, 'pass', /A light-off failed there before/u],
  ] as const)('judges a setting where a spark failed %s', (_, failedS, litS, is, why) => {
    const made = [failedS, 0, 0, 0, litS].map((sparkDelayS, i) => ({
      pressure: 2.1,
      unit: 'inH2O' as const,
      sparkDelayS,
      lit: i > 0,
    }));
    const visit = { ...record(goodPilot, sweepDownAndUp), trials: made };
    const { asLeft, lightOff } = resultOf({ ...visit, setup: { asLeftPressure: { value: 2.1, unit: 'inH2O' } } });
    expect(lightOff!.planMet).toBe(true);
    expect(asLeft!.decision).toBe(is);
    expect(decisionSentence(asLeft!, lightOff)).toMatch(why);
  });

  it('gives no margins to a setting where nothing lit', () => {
    const trials = [0, 0].map((sparkDelayS) => ({ pressure: 2.1, unit: 'inH2O' as const, sparkDelayS, lit: false }));
    const visit = { ...record(goodPilot, sweepDownAndUp), trials };
    const { asLeft } = resultOf({ ...visit, setup: { asLeftPressure: { value: 2.1, unit: 'inH2O' } } });
    expect(asLeft).toMatchObject({ value: 2.1, decision: 'fail' });
    expect(asLeft).not.toHaveProperty('marginLow');
    expect(asLeft).not.toHaveProperty('marginHigh');
  });

  const plan = (elapsedS?: number) =>
    [0, 0, 0, 5].map((sparkDelayS) => ({
      pressure: 2.4,
      unit: 'inH2O' as const,
      sparkDelayS,
      lit: true,
      ...(elapsedS !== undefined && { elapsedS }),
    }));
  const setup = { asLeftPressure: { value: 2.4, unit: 'inH2O' as const }, pilotTrialSeconds: 10 };

  // The light-off plan is met at as-left in all of them: three trials with the spark at once, one with it delayed by half of the trial.
  it('is a pass where the plan is met amid two shoulders', () => {
    const { asLeft } = resultOf({ ...sweepWith(twoShoulders), trials: plan(), setup });
    expect(asLeft).toMatchObject({ decision: 'pass' });
  });
  it.each([undefined, 1.25])(
    'is none of a signal that stays as it is, whatever gas does: minimum signal %s',
    (minimum) => {
      const steady = sweepWith((_, t) => 4.1 + 0.02 * Math.sin(13 * t), {
        // Gas shut for 30 s at 0.2 inH2O after the sweep.
        pressureAt: (t) => (t < 200 ? 0.8 + (3 * Math.abs(100 - t)) / 100 : 0.2),
        lastS: 230,
      });
      const asked = {
        ...setup,
        ...(minimum !== undefined && { minimumSignal: { value: minimum, unit: 'V' as const } }),
      };
      const { asLeft, warnings } = resultOf({ ...steady, trials: plan(), setup: asked });
      expect(asLeft!.decision).not.toBe('pass');
      expect(asLeft!.limitedBy).toContain('signal');
      expect(warnings.map(({ code }) => code)).toContain('no-flame-response');
    },
  );
  it('is none where the manometer showed another pressure while the trials are said to have been made', () => {
    // At 60 s of the sweep the pressure is 2.3 inH2O, at 20 s 4.1.
    const { asLeft, warnings } = resultOf({ ...sweepWith(twoShoulders), trials: plan(20), setup });
    expect(asLeft).toMatchObject({ decision: 'conditional-pass', limitedBy: ['light-off'] });
    expect(warnings.map(({ code }) => code)).toContain('light-off-elsewhere');
    expect(resultOf({ ...sweepWith(twoShoulders), trials: plan(60), setup }).asLeft!.decision).toBe('pass');
  });

  it('has no window over dark pressures beyond a dip, and says that the signal is good on both sides of it', () => {
    // A fifth of the plateau missing about 3 inH2O: good from about 1.2 to 2.8 and from 3.2 to 3.7, dark at both ends of the sweep.
    const dipping = (p: number) => twoShoulders(p) * (1 - 0.2 * Math.exp(-(((p - 3) / 0.22) ** 2)));
    const result = resultOf(sweepWith(dipping, { stepS: 0.2 }));
    expect(result.signalInterval.status).toBe('bounded');
    const { low, high } = result.window;
    const required = result.requiredSignal.value;
    for (const p of [low!.guarded, (low!.guarded + high!.guarded) / 2, high!.guarded])
      expect(dipping(p)).toBeGreaterThan(0.97 * required);
    expect(result.warnings.find(({ code }) => code === 'signal-dips')!.message).toMatch(/highest signal/u);
    expect(result.warnings.map(({ code }) => code)).not.toContain('low-end-not-reached');
  });

  it.each([
    ['an end beyond it was not reached', 1.5, true],
    ['both ends were', 0.5, false],
  ])('is provisional where the signal dips and %s', (_, from, is) => {
    const dipping = (p: number) => twoShoulders(p) * (1 - 0.33 * Math.exp(-(((p - 2.5) / 0.15) ** 2)));
    const capture = sweepWith(dipping, {
      pressureAt: (t) => from + ((5 - from) * Math.abs(100 - t)) / 100,
      stepS: 0.2,
    });
    const result = resultOf(capture);
    expect(result.warnings.map(({ code }) => code)).toContain('signal-dips');
    expect(result.setPoint!.provisional).toBe(is);
  });

  it('has no set point where the interval of the plateau is wider than the plateau', () => {
    const found = study(record(goodPilot, sweepDownAndUp), {});
    if (!found.ok) throw new Error(found.fault.message);
    const { interval } = found.value;
    expect(provisionalReasons(found.value, 2.4)).toEqual([]);
    const wide = { ...interval, plateau: { ...interval.plateau, ci: [0, 2.1 * interval.plateau.value] } };
    const unknown = { ...found.value, interval: wide as typeof interval };
    expect(provisionalReasons(unknown, 2.4)[0]).toContain('plateau');
    expect(detailOf(found.value).result.setPoint).toBeDefined();
    expect(detailOf(unknown).result.setPoint).toBeUndefined();
  });
});

describe('what is said of an end', () => {
  const end = { value: 3.4, ci: [3.4, 3.8] as [number, number], guarded: 3.37 };

  it('is a bracket where two trials set it, and an interval where the signal did', () => {
    expect(endInterval({ ...end, cause: 'light-off' }, 'inH2O')).toBe('3.40 to 3.80, bracket of two trials');
    expect(endInterval({ ...end, cause: 'signal' }, 'inH2O')).toBe('3.40 to 3.80');
  });

  it('is a bracket no narrower than the manometer', () => {
    // 2 u = 0.03: it lit at 3.39 or as low as 3.36, and failed at 3.40 or as high as 3.43.
    const close = { ...end, value: 3.39, ci: [3.39, 3.4] as [number, number], guarded: 3.36, guardedOutward: 3.42 };
    expect(endInterval({ ...close, cause: 'light-off' }, 'inH2O')).toBe('3.36 to 3.43, bracket of two trials');
  });

  it("is the manometer's part where the place itself is exact", () => {
    // Guarded by 0.03 = 2 u of the manometer.
    expect(endInterval({ ...end, ci: [3.4, 3.4], cause: 'maker-range' }, 'inH2O')).toBe(
      "3.37 to 3.43, with the manometer's accuracy",
    );
  });

  it('calls only an interval one on a line of its own', () => {
    const line = (ci: [number, number], cause: 'signal' | 'light-off' | 'maker-range') =>
      endIntervalLine({ ...end, ci, cause }, 'inH2O', 0.95);
    expect(line([3.4, 3.8], 'signal')).toBe('95 % confidence interval: 3.40 to 3.80 inH2O');
    expect(line([3.4, 3.8], 'light-off')).toBe('Bracket of two trials: 3.40 to 3.80 inH2O');
    expect(line([3.4, 3.4], 'maker-range')).toBe("With the manometer's accuracy: 3.37 to 3.43 inH2O");
  });
});

describe('the warnings', () => {
  it('never ask for a slower and for a faster sweep', () => {
    const facts = new Proxy({}, { get: () => 'x' }) as never;
    const sentences = warningCodes.map((code) =>
      (warning as (c: string, f: never) => { message: string })(code, facts),
    );
    expect(sentences.some(({ message }) => /slowly/u.test(message))).toBe(true);
    expect(sentences.some(({ message }) => /faster/u.test(message))).toBe(false);
  });
});
