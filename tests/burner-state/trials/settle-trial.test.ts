import { expect, it } from 'vitest';
import type { MeasuredTrial } from '../../../shared/burner-state/trials/measure-trial.ts';
import { type OverTrial, settleTrial } from '../../../shared/burner-state/trials/settle-trial.ts';

/** A valve that opened to 2.4 inH2O. */
const measured: MeasuredTrial = {
  gasS: 10,
  isSparkWired: false,
  steepest: 2.2,
  rise: 2.2,
  pressureBefore: 0.2,
  pressure: 2.4,
  pressureAfter: 0.2,
  unit: 'inH2O',
  lit: false,
};
const over: OverTrial = {
  why: 'time-over',
  gasS: 10,
  nowS: 24,
  trialSeconds: 10,
  when: 'later',
  hasMinimumSignal: true,
  burning: undefined,
  fanOnly: 0.2,
};

it('a trial that is over is entered as measured', () => {
  expect(settleTrial(measured, over)).toBe('enter');
  expect(settleTrial({ ...measured, lit: true, provedS: 12 }, { ...over, why: 'proved', nowS: 15 })).toBe('enter');
});

it('a flame that the tracker saw waits for its signal while the trial’s time runs and gas flows', () => {
  expect(settleTrial(measured, { ...over, why: 'proved', nowS: 15 })).toBe('wait');
  expect(settleTrial(measured, { ...over, why: 'proved', nowS: 15, when: 'shut' })).toBe('enter');
});

it('the technician is asked where the signal was there before the gas, lit or not', () => {
  expect(settleTrial({ ...measured, isSignalBefore: true }, over)).toBe('ask');
  const lit: MeasuredTrial = { ...measured, lit: true, provedS: 10, isSignalBefore: true };
  expect(settleTrial(lit, { ...over, why: 'proved', nowS: 15 })).toBe('ask');
});

it('what rose by hundredths was no trial, whatever the signal', () => {
  const leak: MeasuredTrial = { ...measured, pressure: 0.24, rise: 0.04, steepest: 0.04, isSignalBefore: true };
  expect(settleTrial(leak, over)).toHaveProperty('noTrial');
});
