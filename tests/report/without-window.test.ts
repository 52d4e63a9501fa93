import { describe, expect, it } from 'vitest';
import { analyze } from '../../shared/analysis/analyze.ts';
import type { Capture, Trial } from '../../shared/model/capture.ts';
import { reportOf } from '../../shared/report/report.ts';
import { captureOf, readingsOf, towards } from '../burner-state/story.ts';

/** Gas at 2.5 inH2O from 10 to 20 s, lit at 11 s, and nothing else: no sweep. */
const pressure = (t: number) => (t < 20 ? towards(0.2, 2.5, 0.15, t, 10) : towards(2.5, 0.2, 0.2, t, 20));
const signal = (t: number) => (t < 20 ? towards(0.02, 5, 0.6, t, 11) : towards(5, 0.02, 0.6, t, 20));
const trial = (sparkDelayS: number, lit = true): Trial => ({
  pressure: 2.5,
  unit: 'inH2O',
  sparkDelayS,
  lit,
  timeToProveS: sparkDelayS + 1,
});
const visit = (trials: Trial[]): Capture => ({
  ...captureOf(readingsOf({ seconds: 60, pressure, signal })),
  id: 'one-pressure',
  lines: [],
  meters: [],
  notes: [],
  trials,
  setup: { asLeftPressure: { value: 2.5, unit: 'inH2O' } },
});
const reported = (trials: Trial[]) => {
  const capture = visit(trials);
  return reportOf({ capture, analysis: analyze(capture), madeAt: '2026-03-02T10:00:00+00:00', version: '1' });
};

describe('the report of a visit without a sweep', () => {
  it('records its light-off trials, and claims neither window nor set point nor decision', () => {
    const report = reported([trial(0), trial(0), trial(0), trial(5)]);
    if (!report.ok) throw new Error(report.fault.message);
    const { title, keyResults, sections } = report.value;
    expect(title).toBe('Visit record without a window');
    expect(keyResults.map(({ value, tone }) => [value, tone])).toEqual([
      ['none', 'bad'],
      ['none', 'bad'],
      ['2.50 inH2O', 'bad'],
      ['4 of 4 lit', 'good'],
    ]);
    expect(keyResults[2]!.note).toBe('no decision: there is no window');
    // Three without failure prove 0.05^(1/3) = 36.8 %, one 5 %: Clopper and Pearson 1934.
    expect(keyResults[3]!.note).toContain('at least 37 % with the spark at once and 5 % with it delayed');
    const analysis = analyze(visit([]));
    expect(sections[0]!.blocks[0]).toMatchObject({ kind: 'caution', text: analysis.ok ? '' : analysis.fault.message });
    expect(sections.map(({ heading }) => heading)).toContain('Recording, marks and notes');
  });

  it('says that the plan is not met where a trial failed', () => {
    const report = reported([trial(0), trial(0, false)]);
    expect(report.ok && report.value.keyResults[3]).toMatchObject({ value: '1 of 2 lit', tone: 'caution' });
  });

  it('is refused where no trial is on record either', () => {
    expect(reported([])).toMatchObject({ ok: false, fault: { code: 'one-pressure' } });
  });
});
