import { describe, expect, it } from 'vitest';
import type { Capture } from '../../../shared/model/capture.ts';
import { answer } from '../answer.ts';
import { triedAfterwards } from '../warnings/warning-cases.ts';

const resultOf = (capture: Capture) => {
  const { asLeft, warnings } = answer(capture).result;
  return { decision: asLeft!.decision, codes: warnings.map(({ code }) => code) };
};

describe('a trial that is entered as lit', () => {
  it('proves the setting where the meters show its flame', () => {
    const { decision, codes } = resultOf(triedAfterwards('lights'));
    expect(decision).toBe('pass');
    expect(codes).not.toContain('light-off-not-shown');
  });
  it('proves nothing where gas came on and both meters show no flame', () => {
    const { decision, codes } = resultOf(triedAfterwards('dark'));
    expect(decision).not.toBe('pass');
    expect(codes).toContain('light-off-not-shown');
  });
  it('proves nothing either where only one of the plan is dark', () => {
    const [seen, dark] = [triedAfterwards('lights'), triedAfterwards('dark')];
    // The second trial, from 60 s before its gas to its end.
    const second = seen.trials[1]!.elapsedS!;
    const isThen = ({ elapsedS }: { elapsedS: number }) => elapsedS > second - 20 && elapsedS < second + 20;
    const readings = [...seen.readings.filter((each) => !isThen(each)), ...dark.readings.filter(isThen)];
    const { decision, codes } = resultOf({ ...seen, readings: readings.toSorted((a, b) => a.elapsedS - b.elapsedS) });
    expect(decision).not.toBe('pass');
    expect(codes).toContain('light-off-not-shown');
  });
  it('is taken as it was entered where no time is written down, or the signal meter gave nothing', () => {
    const dark = triedAfterwards('dark');
    const untimed = dark.trials.map(({ elapsedS: _, ...trial }) => trial);
    expect(resultOf({ ...dark, trials: untimed }).codes).not.toContain('light-off-not-shown');
    const first = dark.trials[0]!.elapsedS!;
    const silent = dark.readings.filter(({ role, elapsedS }) => role !== 'flame_signal' || elapsedS < first - 30);
    expect(resultOf({ ...dark, readings: silent }).codes).not.toContain('light-off-not-shown');
  });
  it('proves nothing where its flame went out again within the trial', () => {
    const { asLeft, warnings } = answer(triedAfterwards('goes-out')).result;
    expect(asLeft!.decision).not.toBe('pass');
    expect(warnings.find(({ code }) => code === 'light-off-not-shown')!.message).toContain('went out again');
  });
  it('proves nothing where its signal is far below what is required', () => {
    const seen = triedAfterwards('lights');
    const fromS = seen.trials[0]!.elapsedS! - 30;
    const readings = seen.readings.map((each) =>
      each.role === 'flame_signal' && each.elapsedS > fromS ? { ...each, value: 0.45 * each.value } : each,
    );
    const { asLeft, warnings } = answer({ ...seen, readings }).result;
    expect(asLeft!.decision).not.toBe('pass');
    expect(warnings.find(({ code }) => code === 'light-off-not-shown')!.message).toMatch(
      /a signal of 2\.\d\d V at most/u,
    );
  });
  // The valve lets the pressure through 2 inH2O on its way to 2.4, and back.
  it('proves nothing at a pressure that the manometer showed only in passing', () => {
    const seen = triedAfterwards('lights');
    const at = (pressure: number): Capture => ({
      ...seen,
      setup: { ...seen.setup, asLeftPressure: { value: pressure, unit: 'inH2O' } },
      trials: seen.trials.map((trial) => ({ ...trial, pressure })),
    });
    expect(resultOf(at(2.4))).toMatchObject({ decision: 'pass' });
    const { decision, codes } = resultOf(at(2));
    expect(decision).not.toBe('pass');
    expect(codes).toContain('light-off-elsewhere');
  });
  it('is no delayed trial where its flame was proved before the spark', () => {
    const seen = triedAfterwards('lights');
    const trials = seen.trials.map((trial) => ((trial.sparkDelayS ?? 0) > 0 ? { ...trial, timeToProveS: 1.2 } : trial));
    expect(resultOf({ ...seen, trials }).decision).not.toBe('pass');
  });
});
