import { describe, expect, it } from 'vitest';
import { compare } from '../../../shared/analysis/compare/compare.ts';
import { comparisonWarningCodes } from '../../../shared/analysis/compare/warnings.ts';
import { warningCodes } from '../../../shared/analysis/warnings/warnings.ts';
import type { Capture } from '../../../shared/model/capture.ts';
import type { Setup } from '../../../shared/model/setup.ts';
import { answer, codesOf } from '../answer.ts';
import { simulateSweep } from '../../benchmark/sweep/simulate.ts';
import { type Case, cases, facts, middle, plain, withTrials } from './warning-cases.ts';

const warned = ({ capture, setup }: Case): string[] => codesOf(capture, setup);
/** Warnings, and what is a finding only where light-off is proved. */
const said = ({ capture, setup }: Case): string[] => {
  const { warnings, findings } = answer(capture, setup).result;
  return [...warnings, ...findings].map(({ code }) => code);
};

describe('the warnings of an analysis', () => {
  it.each(Object.entries(cases))('%s', (code, make) => expect(said(make())).toContain(code));

  it('are these and no others', () => expect(Object.keys(cases).sort()).toEqual([...warningCodes].sort()));

  it('are none of a clean visit whose light-off is proved', () =>
    expect(warned(cases['few-light-offs']())).toEqual([]));

  it('tell a discarded trial with its reason, and count it neither as lit nor as failed', () => {
    const { warnings, lightOff } = answer(cases['unlit-trial-discarded']().capture).result;
    expect(lightOff).toMatchObject({ trials: 1, lit: 1 });
    expect(warnings.filter(({ code }) => code.endsWith('-discarded'))).toEqual([
      { code: 'unlit-trial-discarded', message: expect.stringContaining('(hand on the valve)') as string },
    ]);
  });

  it('tell a failure that was corrected to lit, with its reason, also where light-off is proved', () => {
    const { capture, setup } = cases['few-light-offs']();
    const last = capture.trials.at(-1)!;
    const failed = { ...last, lit: false };
    const taken = { ...last, corrects: capture.trials.length, knownBy: 'corrected' as const, reason: 'wrong button' };
    const trials = [...capture.trials.slice(0, -1), failed, taken];
    const { result } = answer({ ...capture, trials }, setup);
    expect(result.lightOff!.planMet).toBe(true);
    expect(result.warnings).toEqual([
      { code: 'unlit-trial-corrected', message: expect.stringContaining('(wrong button)') as string },
    ]);
    // The same correction of one that was lit before is no such thing.
    expect(warned({ capture: { ...capture, trials: [...capture.trials, taken] }, ...(setup && { setup }) })).toEqual(
      [],
    );
  });

  it.each([
    [true, []],
    [false, ['unlit-trial-discarded']],
  ])('stay where light-off is proved only if the discarded trial has no flame on record (lit: %s)', (lit, stays) => {
    const { capture, setup } = cases['few-light-offs']();
    const cutShort = { ...capture.trials[0]!, lit, status: 'void' as const, reason: 'wrong button' };
    const result = { capture: { ...capture, trials: [...capture.trials, cutShort] }, ...(setup && { setup }) };
    expect(warned(result)).toEqual(stays);
    expect(said(result)).toContain(lit ? 'trial-discarded' : 'unlit-trial-discarded');
  });

  it('tell a purge that was too short, but not before the first trial: the control may have purged before anybody recorded', () => {
    const { capture } = cases['light-off-purge-short']();
    const short = answer(capture).result.warnings.find(({ code }) => code === 'light-off-purge-short');
    // 60 s unless the setup says otherwise (common practice).
    expect(short?.message).toMatch(
      /^Before 1 of 3 light-off trials less purge .* than the 60 s .*: 3 s at \d\.\d\d inH2O\./u,
    );
    const full = capture.trials.map((trial, i) => (i === 0 ? trial : { ...trial, purgeS: 61 }));
    expect(warned({ capture: { ...capture, trials: full } })).not.toContain('light-off-purge-short');
    expect(warned({ capture, setup: { purgeSeconds: 3 } })).not.toContain('light-off-purge-short');
  });

  it('are not given without a reason: a plain sweep has only that of its missing trials', () => {
    expect(warned({ capture: plain })).toEqual(['no-light-offs']);
    expect(warned(withTrials([middle, true]))).toEqual(['light-off-not-proved']);
  });
});

describe('the warnings of a comparison', () => {
  const accurate: Setup = {
    pressureAccuracy: { percentOfReading: 0.5, absolute: 0.01, unit: 'inH2O' },
    signalAccuracy: { percentOfReading: 0.5, absolute: 0.01, unit: 'V' },
  };
  const meters = (...profiles: string[]): Capture['meters'] =>
    profiles.map((profile, i) => ({ port: `port ${i}`, profile }));
  const before: Capture = { ...plain, setup: accurate, meters: meters('Manometer', 'Multimeter') };
  const afterwards: Record<(typeof comparisonWarningCodes)[number], Partial<Capture>> = {
    'units-converted': {
      readings: plain.readings.map((r) =>
        r.role === 'pilot_pressure' ? { ...r, unit: 'Pa', value: r.value * 249.08891 } : r,
      ),
    },
    'practice-compared': { practice: true },
    'meters-differ': { meters: meters('Manometer', 'Another multimeter') },
    'setup-differs': { setup: { ...accurate, signalDropFraction: 0.2 } },
    'accuracy-unknown': { setup: {} },
    'signal-below-required': { setup: { ...accurate, minimumSignal: { value: 9, unit: 'V' } } },
    'signal-drifts': { readings: cases['signal-drifts']().capture.readings },
    // The same burner, and a manometer whose damping was turned on.
    'lag-of-manometer': { readings: simulateSweep({ ...facts, manometerLagS: facts.manometerLagS + 0.8 }, 9).readings },
    // A later sweep over the low shoulder that turns back before the middle, where the burner was set.
    'old-setting-not-tested': {
      readings: simulateSweep({ ...facts, tested: [facts.tested[0], middle - 0.4] }, 9).readings,
    },
  };
  const codesAfter = (after: Partial<Capture>) => {
    const outcome = compare(before, { ...before, ...after });
    if (!outcome.ok) throw new Error(outcome.fault.message);
    return outcome.value.result.warnings.map(({ code }) => code);
  };

  it.each(Object.entries(afterwards))('%s', (code, after) => expect(codesAfter(after)).toContain(code));

  it('are these and no others', () =>
    expect(Object.keys(afterwards).sort()).toEqual([...comparisonWarningCodes].sort()));

  it('are none of two sweeps made alike', () => expect(codesAfter({})).toEqual([]));
});
