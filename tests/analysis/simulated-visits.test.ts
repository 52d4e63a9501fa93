import { describe, expect, it } from 'vitest';
import { analyze } from '../../shared/analysis/analyze.ts';
import { forgetFits } from '../../shared/analysis/curve/fit-curve.ts';
import type { Capture } from '../../shared/model/capture.ts';
import { scenarios } from '../../shared/practice/scenarios.ts';
import { simulateVisit } from '../../shared/practice/simulate.ts';
import { drawSweep } from '../benchmark/sweep/kinds.ts';
import { captureOf, simulateSweep } from '../benchmark/sweep/simulate.ts';
import { answer } from './answer.ts';
import { holds, shoulderFall, widthOf } from './interval-width.ts';

// The truth comes from the model of the invented burner, not from the analysis.
describe('the analysis of simulated visits', () => {
  const visits = scenarios.flatMap((scenario) =>
    [1, 2, 3].map((seed) => {
      const { capture, truth } = simulateVisit(scenario.name, seed);
      const { result } = answer(capture);
      const ends = (['low', 'high'] as const).flatMap((side) => {
        const end = result.signalInterval[side];
        const known = side === 'low' ? truth.lowEdge : truth.highEdge;
        const cap = shoulderFall(scenario.curve[side].width);
        return end?.bounded ? [{ side, end, known, cap }] : [];
      });
      return { name: scenario.name, seed, truth, result, ends };
    }),
  );

  it.each(visits)('$name, seed $seed: the right status, and ends within three half intervals of the truth', (visit) => {
    expect(visit.result.signalInterval.status).toBe(visit.truth.status);
    for (const { end, known, cap } of visit.ends) {
      // An interval of 95 % misses one in twenty; three times its half width misses one in many millions. 0.01 inH2O is the
      // resolution that the manometer's lag and the grid of the curve leave.
      const half = Math.max(end.ci[1] - end.value, end.value - end.ci[0]);
      expect(Math.abs(end.value - known)).toBeLessThan(3 * half + 0.01);
      // However wide the interval: on the right half of the shoulder.
      expect(Math.abs(end.value - known)).toBeLessThan(cap / 2);
    }
  });

  it('the 95 % intervals of bounded ends hold the truth in most of these sweeps', () => {
    const ends = visits.flatMap((visit) => visit.ends);
    const held = ends.filter(({ end, known }) => holds(end.ci, known)).length;
    // Binomial: with a true coverage of 95 %, 80 % or fewer of 40 and more would happen once in a few thousand runs.
    expect(ends.length).toBeGreaterThan(40);
    expect(held / ends.length).toBeGreaterThan(0.8);
  });

  it('those intervals are narrower than the fall of their shoulder', () => {
    const tooWide = visits.flatMap(({ name, seed, ends }) =>
      ends.flatMap(({ side, end, cap }) => (widthOf(end.ci) < cap ? [] : [`${name}, seed ${seed}, ${side} end`])),
    );
    expect(tooWide).toEqual([]);
  });

  it('names what set each end: a cliff, a failed light-off, the end of the test', () => {
    expect(answer(simulateVisit('flame-lost', 1).capture).result.window.low?.cause).toBe('flame-lost');
    expect(answer(simulateVisit('flooded', 1).capture).result.window.high?.cause).toBe('light-off');
    const open = answer(simulateVisit('top-never-reached', 1).capture).result;
    expect(open.window.high?.cause).toBe('tested-end');
    expect(open.setPoint?.provisional).toBe(true);
    expect(open.warnings.map((warning) => warning.code)).toContain('high-end-not-reached');
  });

  it('recognizes a self-checking detector, and does not call it unsteady', () => {
    // Light-off is proved at that visit, so that it is a finding.
    const { findings, window } = answer(simulateVisit('self-check', 1).capture).result;
    expect(findings.map((finding) => finding.code)).toContain('self-check');
    expect([window.low?.cause, window.high?.cause]).not.toContain('unsteady');
  });

  it('gives the free curve where no shape of curve follows the readings: a plateau on two levels', () => {
    const { capture } = simulateVisit('clean', 1);
    let pressure = 0;
    const twoLevels: Capture = {
      ...capture,
      readings: capture.readings.map((reading) => {
        if (reading.role === 'pilot_pressure' && !reading.flag) pressure = reading.value;
        return reading.role === 'flame_signal' && pressure > 2.4
          ? { ...reading, value: 0.65 * reading.value }
          : reading;
      }),
    };
    const codes = (some: Capture) => answer(some).result.warnings.map((warning) => warning.code);
    expect(codes(twoLevels)).toContain('fit-poor');
    expect(codes(capture)).not.toContain('fit-poor');
    const { result, explanation } = answer(twoLevels);
    expect(explanation.model).toContain('free curve');
    // The scatter is that about the free curve, so it is the meter's and the flame's: hundredths of a volt.
    expect(explanation.residualSd).toBeLessThan(0.03);
    // The high end is where the level was made to fall, known to a few of the forty slices of 3.4 inH2O.
    const high = result.signalInterval.high!;
    expect(high.bounded).toBe(true);
    expect(holds(high.ci, 2.4)).toBe(true);
    expect(widthOf(high.ci)).toBeLessThan(0.4);
  });

  it('widens the intervals of a manometer with coarse digits: steps of 0.1 inH2O, slowly swept', () => {
    const digit = 0.1;
    const ends = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10].flatMap((seed) => {
      const { facts, truth } = drawSweep('two shoulders', seed);
      const coarse = { ...facts, speed: 0.03, digits: { ...facts.digits, pressure: digit } };
      const { low, high } = answer(captureOf(simulateSweep(coarse, seed).readings)).result.signalInterval;
      return [
        { ci: low!.ci, known: truth.low! },
        { ci: high!.ci, known: truth.high! },
      ];
    });
    // Seventeen of twenty: fewer has a chance of 1 in 63 when 95 in 100 hold (binomial); the seeds are fixed.
    expect(ends.filter(({ ci, known }) => holds(ci, known)).length).toBeGreaterThanOrEqual(17);
    // A single reading is known to one digit either way, and an end is found from many.
    for (const { ci } of ends) expect(widthOf(ci)).toBeLessThan(2 * digit);
  });

  it('is not misled by one wrong time of a logger', () => {
    const { capture } = simulateVisit('clean', 1);
    const part = { ...capture, marks: [], readings: capture.readings.slice(0, 1500) };
    const wrong = { ...part, readings: [...part.readings, { ...part.readings[0]!, elapsedS: 1e15 }] };
    expect(answer(wrong).result.window).toEqual(answer(part).result.window);
    expect(answer(wrong).result.readings.rejected).toBe(answer(part).result.readings.rejected + 1);
  });

  it('gives the same digits for the same input and seed', () => {
    const { capture } = simulateVisit('clean', 4);
    const anew = () => {
      forgetFits();
      return JSON.stringify(analyze(capture));
    };
    const first = anew();
    expect(first).toContain('"ok":true');
    expect(anew()).toBe(first);
  });

  it('does not depend on the order of the readings', () => {
    const { capture } = simulateVisit('clean', 5);
    const reversed = { ...capture, readings: capture.readings.toReversed() };
    expect(answer(reversed).result.window).toEqual(answer(capture).result.window);
  });

  it('gives in pascals what it gives in inches, for a manometer in pascals', () => {
    const { capture } = simulateVisit('clean', 6);
    // 1 inH2O = 249.08891 Pa (NIST SP 811, conventional).
    const inPascals: Capture = {
      ...capture,
      readings: capture.readings.map((reading) =>
        reading.role === 'pilot_pressure' ? { ...reading, unit: 'Pa', value: reading.value * 249.08891 } : reading,
      ),
    };
    const [inches, pascals] = [answer(capture).result, answer(inPascals).result];
    expect(pascals.pressureUnit).toBe('Pa');
    expect(pascals.window.low!.value / 249.08891).toBeCloseTo(inches.window.low!.value, 3);
    expect(pascals.setPoint!.value / 249.08891).toBeCloseTo(inches.setPoint!.value, 3);
  });
});
