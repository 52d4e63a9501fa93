import { describe, expect, it } from 'vitest';
import { analyze } from '../../shared/analysis/analyze.ts';
import { compare } from '../../shared/analysis/compare/compare.ts';
import { decide, splitEvenly } from '../../shared/analysis/window/set-point.ts';
import { judgeTrials } from '../../shared/analysis/window/light-off.ts';
import type { Capture, Trial } from '../../shared/model/capture.ts';
import type { Setup } from '../../shared/model/setup.ts';
import { scenarios } from '../../shared/practice/scenarios.ts';
import { simulateVisit } from '../../shared/practice/simulate.ts';
import { drawSweep } from '../benchmark/sweep/kinds.ts';
import { captureOf, simulateSweep } from '../benchmark/sweep/simulate.ts';

const detail = (capture: Capture, setup?: Setup) => {
  const outcome = analyze(capture, setup);
  if (!outcome.ok) throw new Error(outcome.fault.message);
  return outcome.value;
};

// The truth comes from the model of the invented burner, not from the analysis.
describe('the analysis of simulated visits', () => {
  const seeds = [1, 2, 3];
  const cases = scenarios.flatMap(({ name }) => seeds.map((seed) => ({ name, seed })));
  it.each(cases)(
    '$name, seed $seed: the right status, and ends within three half intervals of the truth',
    ({ name, seed }) => {
      const { capture, truth } = simulateVisit(name, seed);
      const { result } = detail(capture);
      expect(result.signalInterval.status).toBe(truth.status);
      for (const [side, known] of [
        ['low', truth.lowEdge],
        ['high', truth.highEdge],
      ] as const) {
        const end = result.signalInterval[side]!;
        if (!end.bounded) continue;
        // An interval of 95 % misses one in twenty; three times its half width misses one in many millions. 0.01 inH2O is the
        // resolution that the manometer's lag and the grid of the curve leave.
        const half = Math.max(end.ci[1] - end.value, end.value - end.ci[0]);
        expect(Math.abs(end.value - known)).toBeLessThan(3 * half + 0.01);
      }
    },
  );

  it('the 95 % intervals of bounded ends hold the truth in most of these sweeps', () => {
    let ends = 0;
    let held = 0;
    for (const { name, seed } of cases) {
      const { capture, truth } = simulateVisit(name, seed);
      const { signalInterval } = detail(capture).result;
      for (const [side, known] of [
        ['low', truth.lowEdge],
        ['high', truth.highEdge],
      ] as const) {
        const end = signalInterval[side];
        if (!end?.bounded) continue;
        ends += 1;
        if (end.ci[0] <= known && known <= end.ci[1]) held += 1;
      }
    }
    // Binomial: with a true coverage of 95 %, 80 % or fewer of 40 and more would happen once in a few thousand runs.
    expect(ends).toBeGreaterThan(40);
    expect(held / ends).toBeGreaterThan(0.8);
  }, 180_000);

  it('names what set each end: a cliff, a failed light-off, the end of the test', () => {
    expect(detail(simulateVisit('flame-lost', 1).capture).result.window.low?.cause).toBe('flame-lost');
    expect(detail(simulateVisit('flooded', 1).capture).result.window.high?.cause).toBe('light-off');
    const open = detail(simulateVisit('top-never-reached', 1).capture).result;
    expect(open.window.high?.cause).toBe('tested-end');
    expect(open.setPoint?.provisional).toBe(true);
    expect(open.warnings.map((warning) => warning.code)).toContain('high-end-not-reached');
  });

  it('recognises a detector that tests itself, and does not call it unsteady', () => {
    const { warnings, window } = detail(simulateVisit('self-check', 1).capture).result;
    expect(warnings.map((warning) => warning.code)).toContain('self-check');
    expect([window.low?.cause, window.high?.cause]).not.toContain('unsteady');
  });

  it('says when no shape of curve follows the readings: a plateau on two levels', () => {
    const { capture } = simulateVisit('clean', 1);
    const twoLevels: Capture = {
      ...capture,
      readings: capture.readings.map((reading, i, all) => {
        if (reading.role !== 'flame_signal') return reading;
        const pressure = all.slice(0, i).findLast((other) => other.role === 'pilot_pressure' && !other.flag);
        return (pressure?.value ?? 0) > 2.4 ? { ...reading, value: 0.65 * reading.value } : reading;
      }),
    };
    const codes = (some: Capture) => detail(some).result.warnings.map((warning) => warning.code);
    expect(codes(twoLevels)).toContain('fit-poor');
    expect(codes(capture)).not.toContain('fit-poor');
    // The free curve takes over: its high end is where the level was made to fall.
    const { result, explanation } = detail(twoLevels);
    expect(explanation.model).toContain('free curve');
    // The scatter is told about the curve that is drawn, so it is the meter's and the flame's: hundredths of a volt.
    expect(explanation.residualSd).toBeLessThan(0.03);
    const high = result.signalInterval.high!;
    expect(high.bounded).toBe(true);
    expect(high.ci[0]).toBeLessThan(2.4);
    expect(high.ci[1]).toBeGreaterThan(2.4);
    expect(high.ci[1] - high.ci[0]).toBeLessThan(0.4);
  });

  it('doubts the ends of a manometer with coarse digits: steps of 0.1 inH2O, slowly swept', () => {
    let held = 0;
    for (const seed of [1, 2, 3, 4, 5, 6, 7, 8, 9, 10]) {
      const { facts, truth } = drawSweep('two shoulders', seed);
      const coarse = { ...facts, speed: 0.03, digits: { ...facts.digits, pressure: 0.1 } };
      const { low, high } = detail(captureOf(simulateSweep(coarse, seed).readings)).result.signalInterval;
      held += Number(low!.ci[0] < truth.low! && truth.low! < low!.ci[1]);
      held += Number(high!.ci[0] < truth.high! && truth.high! < high!.ci[1]);
    }
    // Seventeen of twenty: fewer has a chance of 1 in 63 when 95 in 100 hold (binomial); the seeds are fixed.
    expect(held).toBeGreaterThanOrEqual(17);
  });

  it('is not led astray by one wild time of a logger', () => {
    const { capture } = simulateVisit('clean', 1);
    const slipped = { ...capture, marks: [], readings: capture.readings.slice(0, 1500) };
    const wild = { ...slipped, readings: [...slipped.readings, { ...slipped.readings[0]!, elapsedS: 1e15 }] };
    expect(detail(wild).result.window).toEqual(detail(slipped).result.window);
    expect(detail(wild).result.readings.rejected).toBe(detail(slipped).result.readings.rejected + 1);
  });

  it('gives the same digits for the same input and seed', () => {
    const { capture } = simulateVisit('clean', 4);
    expect(JSON.stringify(detail(capture).result)).toBe(JSON.stringify(detail(capture).result));
  });

  it('does not mind the order of the readings, nor repeated ones', () => {
    const { capture } = simulateVisit('clean', 5);
    const shuffled = { ...capture, readings: capture.readings.toReversed() };
    expect(detail(shuffled).result.window).toEqual(detail(capture).result.window);
  });

  it('answers in pascals what it answers in inches, for a manometer in pascals', () => {
    const { capture } = simulateVisit('clean', 6);
    // 1 inH2O = 249.08891 Pa (NIST SP 811, conventional).
    const inPascals: Capture = {
      ...capture,
      readings: capture.readings.map((reading) =>
        reading.role === 'pilot_pressure' ? { ...reading, unit: 'Pa', value: reading.value * 249.08891 } : reading,
      ),
    };
    const [inches, pascals] = [detail(capture).result, detail(inPascals).result];
    expect(pascals.pressureUnit).toBe('Pa');
    expect(pascals.window.low!.value / 249.08891).toBeCloseTo(inches.window.low!.value, 3);
    expect(pascals.setPoint!.value / 249.08891).toBeCloseTo(inches.setPoint!.value, 3);
  });
});

describe('what it refuses, with a reason', () => {
  const { capture } = simulateVisit('clean', 1);
  const only = (keep: (role: string, i: number) => boolean): Capture => ({
    ...capture,
    marks: [],
    readings: capture.readings.filter((reading, i) => keep(reading.role, i)),
  });
  const code = (some: Capture) => {
    const outcome = analyze(some);
    return outcome.ok ? 'answered' : outcome.fault.code;
  };

  it('one meter silent', () => {
    expect(code(only((role) => role === 'pilot_pressure'))).toBe('no-signal');
    expect(code(only((role) => role === 'flame_signal'))).toBe('no-pressure');
  });
  it('fewer than eight readings', () => expect(code(only((_role, i) => i < 12))).toBe('too-few-pairs'));
  it('one pressure only', () => {
    const still = {
      ...capture,
      marks: [],
      readings: capture.readings.map((r) => (r.role === 'pilot_pressure' ? { ...r, value: 2.5 } : r)),
    };
    expect(code(still)).toBe('one-pressure');
  });
  it('a least signal above everything: no window, and a warning', () => {
    const { result } = detail(capture, { ...capture.setup, minimumSignal: { value: 9, unit: 'V' } });
    expect(result.signalInterval.status).toBe('none');
    expect(result.setPoint).toBeUndefined();
    expect(result.warnings[0]?.code).toBe('signal-below-required');
  });
  it('a least signal in another kind of unit: left out, loudly', () => {
    const { result } = detail(capture, { ...capture.setup, minimumSignal: { value: 3, unit: 'uA' } });
    expect(result.requiredSignal.basis).toBe('drop-fraction');
    expect(result.warnings.map((warning) => warning.code)).toContain('minimum-signal-unit');
  });
});

describe('light-off trials', () => {
  const trial = (pressure: number, lit: boolean): Trial => ({ pressure, unit: 'inH2O', sparkDelayS: 0, lit });

  it('the end is the outermost pressure that lit with no failure at or inside it', () => {
    const judged = judgeTrials(
      [trial(1.5, true), trial(2.5, true), trial(3.4, true), trial(3.8, false)],
      'inH2O',
      2.5,
      0.95,
    )!;
    expect(judged.high).toEqual({ value: 3.4, failure: 3.8 });
    expect(judged.low).toBeUndefined();
  });
  it('a pressure that lit beyond a failure does not count, and the failure is named', () => {
    const judged = judgeTrials([trial(2.5, true), trial(3.0, false), trial(3.4, true)], 'inH2O', 2.4, 0.95)!;
    expect(judged.high).toEqual({ value: 2.5, failure: 3.0 });
    expect(judged.contradicting).toEqual([3.0]);
  });
  it('a pilot that was tried and never lit has no window, however good its signal', () => {
    const { capture } = simulateVisit('clean', 1);
    const { result } = detail({ ...capture, trials: [trial(1.5, false), trial(2.5, false), trial(3.5, false)] });
    expect(result.window).toEqual({ status: 'none' });
    expect(result.setPoint).toBeUndefined();
    expect(result.warnings[0]?.code).toBe('never-lit');
  });
  it('10 of 12 prove 56 % at 95 % confidence', () => {
    // Clopper-Pearson: at the bound p, 10 or more of 12 have a chance of 5 %.
    const trials = Array.from({ length: 12 }, (_, i) => trial(2, i < 10));
    const p = judgeTrials(trials, 'inH2O', 2, 0.95)!.lowerBound;
    expect(66 * p ** 10 * (1 - p) ** 2 + 12 * p ** 11 * (1 - p) + p ** 12).toBeCloseTo(0.05, 9);
    expect(p.toFixed(2)).toBe('0.56');
  });
});

describe('set point and decision', () => {
  it('splits evenly in pressure, in flow above the fan-only pressure, or in ratio', () => {
    expect(splitEvenly('equal-pressure', 1, 4, 0)).toBe(2.5);
    // Orifice law: flow goes as the root, so half way between roots 1 and 2 is 1.5 squared.
    expect(splitEvenly('equal-flow', 1, 4, 0)).toBeCloseTo(2.25, 12);
    expect(splitEvenly('equal-flow', 1.2, 4.2, 0.2)).toBeCloseTo(2.45, 12);
    expect(splitEvenly('equal-ratio', 1, 4, 0)).toBeCloseTo(2, 12);
  });
  it('decides in the four ways of ILAC-G8:09/2019 with guard band', () => {
    const low = { value: 1, ci: [1, 1] as [number, number], guarded: 1.1, cause: 'signal' as const };
    const high = { value: 4, ci: [4, 4] as [number, number], guarded: 3.9, cause: 'signal' as const };
    expect([2, 1.05, 0.95, 0.5, 3.95, 4.05, 5].map((value) => decide(value, low, high))).toEqual([
      'pass',
      'conditional-pass',
      'conditional-fail',
      'fail',
      'conditional-pass',
      'conditional-fail',
      'fail',
    ]);
  });
});

describe('comparing two sweeps', () => {
  it('finds what was changed, in its direction, and says whether the old setting still holds', () => {
    const outcome = compare(simulateVisit('clean', 1).capture, simulateVisit('next-year', 2).capture);
    if (!outcome.ok) throw new Error(outcome.fault.message);
    const { result } = outcome.value;
    expect(result.lowEdge.significant && result.lowEdge.change! > 0).toBe(true);
    expect(result.highEdge.significant && result.highEdge.change! < 0).toBe(true);
    expect(result.plateau.significant && result.plateau.change! < 0).toBe(true);
    expect(result.oldSetPoint?.decision).toBe('pass');
  });

  it('calls nothing changed in nearly all pairs of sweeps of the same burner', () => {
    let alarms = 0;
    const pairs = 12;
    for (let seed = 0; seed < pairs; seed += 1) {
      const outcome = compare(simulateVisit('clean', 100 + seed).capture, simulateVisit('clean', 200 + seed).capture);
      if (!outcome.ok) throw new Error(outcome.fault.message);
      const { lowEdge, highEdge, plateau, windowWidth, noise, lag } = outcome.value.result;
      if ([lowEdge, highEdge, plateau, windowWidth, noise, lag].some((change) => change.significant)) alarms += 1;
    }
    // At most 5 % each: more than 3 of 12 would happen about once in five thousand runs (binomial).
    expect(alarms).toBeLessThanOrEqual(3);
  }, 180_000);
});
