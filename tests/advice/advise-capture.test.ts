import { describe, expect, it } from 'vitest';
import { analyze } from '../../shared/analysis/analyze.ts';
import { adviseCapture } from '../../shared/advice/advise-capture.ts';
import type { Trial } from '../../shared/model/capture.ts';
import type { Setup } from '../../shared/model/setup.ts';
import { drawSweep } from '../benchmark/sweep/kinds.ts';

// An invented sweep with both ends, whose truth follows from its curve.
const { capture, truth } = drawSweep('two shoulders', 3);
const middle = Math.round(50 * (truth.low! + truth.high!)) / 100;
const setup: Setup = {
  ...capture.setup,
  makerPressureRange: { low: truth.low! - 0.2, high: truth.high! + 0.2, unit: 'inH2O' },
  trialLimits: { longestDelay_s: 5 },
  asLeftPressure: { value: middle, unit: 'inH2O' },
};
const trial = (more: Partial<Trial> = {}): Trial => ({
  pressure: middle,
  unit: 'inH2O',
  sparkDelayS: 0,
  lit: true,
  ...more,
});
const adviceFor = (trials: Trial[], other: Partial<Setup> = {}, marks = capture.marks) => {
  const found = adviseCapture({ ...capture, trials, marks }, { ...setup, ...other });
  if (!found.ok) throw new Error(found.fault.message);
  return found.value;
};
const met = [trial(), trial(), trial(), trial({ sparkDelayS: 5 })];

describe('the advice on a visit', () => {
  it('proves the pressure as left first, and says what is proved so far (Clopper-Pearson: 0.05 for 1 of 1)', () => {
    const found = adviceFor([trial()]);
    expect(found).toMatchObject({
      next: { pressure: middle, sparkDelay_s: 0 },
      proof: { plainStillNeeded: 2, delayedStillNeeded: 1 },
    });
    expect(found.proved).toContain('lit 1 of 1: at least 5 % at 95 % confidence');
    // 22 in all show 90 % at 90 % (success-run theorem).
    expect(found.proved).toContain('21 more without a failure would show 90 % at 90 % confidence');
  });
  it('goes outward once the plan is met, inside the window', () => {
    const { next } = adviceFor(met);
    expect(next!.pressure).not.toBe(middle);
    expect(next!.pressure).toBeGreaterThan(truth.low!);
    expect(next!.pressure).toBeLessThan(truth.high!);
  });
  it('says how far the plan is as the report says it, and after a failure that a claim allows none', () => {
    expect(adviceFor([trial(), trial()]).plan).toEqual({
      met: false,
      counts: '2 of 3 with the spark at once, 0 of 1 delayed',
    });
    expect(adviceFor(met).plan).toMatchObject({ met: true });
    const lightOffPlan = { probability: 0.9, confidence: 0.9, delayed: 0 };
    const lost = adviceFor([trial(), trial({ lit: false }), trial()], { lightOffPlan });
    expect(lost.plan).toMatchObject({ met: false });
    expect(lost.plan!.counts).not.toContain(' of ');
    expect(`${lost.proved} ${lost.reason}`).not.toMatch(/[Ss]till needed|plan needs/u);
    // The numbers stay numbers: those that a new row would take.
    expect(lost.proof.plainStillNeeded).toBe(21);
  });
  it('keeps limits that were agreed in another unit', () => {
    const limits = {
      low: { value: (middle - 0.3) * 249.08891, unit: 'Pa' },
      high: { value: (middle + 0.3) * 249.08891, unit: 'Pa' },
    } as const;
    const { candidates } = adviceFor(met, { trialLimits: limits });
    for (const { pressure } of candidates) expect(Math.abs(pressure - middle)).toBeLessThanOrEqual(0.3);
  });
  it('goes on at the setting where a failure further out has narrowed the window to it', () => {
    const found = adviceFor([trial(), trial({ pressure: middle + 0.8, lit: false })]);
    expect(found).toMatchObject({ next: { pressure: middle }, proof: { plainStillNeeded: 2 } });
  });
  describe('with a test that looks for failures, after it failed at a pressure that lit', () => {
    const out = middle - 0.6;
    const tried = [...met, trial({ pressure: out }), trial({ pressure: out - 0.3, lit: false })];
    const limits = {
      low: { value: middle - 1.2, unit: 'inH2O' },
      high: { value: middle + 1.2, unit: 'inH2O' },
      mostFailures: 2,
      method: 'up-and-down',
    } as const;
    const again = [...tried, trial({ pressure: out, lit: false })];

    it('goes on with the other side, and says that it lights sometimes there', () => {
      // After a failure the test goes one level back, to where it lit.
      const { candidates } = adviceFor(tried, { trialLimits: limits });
      expect(candidates.find(({ side }) => side === 'low')!.pressure).toBeCloseTo(out, 1);
      const { stop, next, notes } = adviceFor(again, { trialLimits: limits });
      expect(stop).toBe(false);
      expect(next!.pressure).toBeGreaterThan(middle + 0.3);
      expect(notes.join(' ')).toContain(`It lights sometimes at ${out.toFixed(2)} inH2O: it lit and failed there`);
    });
    it('ends the window inside of it, and keeps a provisional set point', () => {
      const found = analyze({ ...capture, trials: again }, { ...setup, trialLimits: limits });
      if (!found.ok) throw new Error(found.fault.message);
      const { window, setPoint, warnings } = found.value.result;
      // The outermost pressure that lit with no failure at or inside it.
      expect(window.low).toMatchObject({ value: middle, cause: 'light-off' });
      expect(setPoint!.provisional).toBe(true);
      expect(warnings.map(({ code }) => code)).not.toContain('light-off-unclear');
      expect(warnings.map(({ message }) => message).join(' ')).toContain(
        `it lights sometimes at ${out.toFixed(2)} inH2O`,
      );
    });
    it.each([
      ['no such test was agreed', again, { trialLimits: { ...limits, method: undefined } }],
      ['but one failure was agreed', again, { trialLimits: { ...limits, mostFailures: 1 } }],
      ['it failed at the setting', [...met, trial({ lit: false })], { trialLimits: limits }],
      ['nothing was recorded as left', again, { trialLimits: limits, asLeftPressure: undefined }],
    ])('stops all the same where %s', (_, trials, other) => {
      const { stop, reason } = adviceFor(trials, other);
      expect(stop).toBe(true);
      expect(reason).toContain('lit and failed at the same pressure, or nearly so');
    });
  });
  it('counts no discarded trial, and says so', () => {
    const found = adviceFor([trial(), trial({ status: 'void', corrects: 1, reason: 'wrong burner' })]);
    expect(found.proof.plainStillNeeded).toBe(3);
    expect(found.notes.join(' ')).toContain('1 trial was discarded');
  });
  it('asks for no trial where they lit and failed at one setting, neither in the reason nor in what is proved', () => {
    const found = adviceFor([trial(), trial(), trial({ lit: false })]);
    expect(found).toMatchObject({ next: null, stop: true, reason: expect.stringContaining('lit and failed') });
    expect(found.proved).toContain('lit 2 of 3');
    expect(found.proved).not.toMatch(/needed|would show/u);
    // Nobody turned the regulator: no readings show that it moved.
    expect(found.notes.join(' ')).not.toContain('pressure changed');
  });
  it('tells trials whose spark nobody knows, which the plan does not count', () => {
    const { sparkDelayS: _, ...unknown } = trial();
    const found = adviceFor([unknown]);
    expect(found.proof.plainStillNeeded).toBe(3);
    expect(found.notes.join(' ')).toContain('Nobody knows when the spark of one trial came');
  });
  it('advises nothing before a trial that was cut short is judged', () => {
    const marks = [
      ...capture.marks,
      { elapsedS: 1, kind: 'sweep-start', text: '' },
      { elapsedS: 9000, kind: 'sweep-end', text: '' },
      { elapsedS: 9060, kind: 'trial-start', text: '' },
      { elapsedS: 9070, kind: 'trial-end', text: 'recording was interrupted' },
    ] as const;
    const found = adviceFor([], {}, [...marks]);
    expect(found).toMatchObject({ next: null, stop: true });
    expect(found.reason).toContain('151:00.0');
  });
  it("advises nothing without a maker's range and limits", () => {
    const { makerPressureRange: _, trialLimits: __, ...bare } = setup;
    const found = adviseCapture({ ...capture, trials: [] }, bare);
    expect(found.ok && found.value).toMatchObject({ next: null, stop: true });
  });
});
