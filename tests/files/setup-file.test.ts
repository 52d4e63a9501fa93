import { describe, expect, it } from 'vitest';
import { readDataPackage, writeDataPackage } from '../../shared/files/data-package.ts';
import { readSetup, writeSetup } from '../../shared/files/setup-file.ts';
import { Setup } from '../../shared/model/setup.ts';
import { simulateVisit } from '../../shared/practice/simulate.ts';

const read = (setup: object) => readSetup({ file: 'a.setup.json', text: JSON.stringify(setup) });
const agreed = {
  trialLimits: {
    low: { value: 1.6, unit: 'inH2O' },
    high: { value: 900, unit: 'Pa' },
    longestDelay_s: 5,
    mostFailures: 2,
    method: 'neyer',
  },
  pressureZero: { value: -0.02, unit: 'inH2O' },
  darkSignal: { value: 0.03, unit: 'V' },
  sparkOnlySignal: { value: 0.4, unit: 'V' },
};

describe('what was agreed for trials, and the zeros of the meters', () => {
  it('is read without a notice and written as it was', () => {
    const found = read(agreed);
    if (!found.ok) throw new Error(found.fault.message);
    expect(found.value).toEqual({ setup: agreed, notices: [] });
    expect(JSON.parse(writeSetup(found.value.setup))).toEqual(agreed);
  });
  it('comes back from a data package as it was', () => {
    const { capture } = simulateVisit('clean', 3);
    const setup = Setup.parse({ ...capture.setup, ...agreed });
    const read = readDataPackage({ file: 'visit.zip', entries: writeDataPackage({ ...capture, setup }) });
    expect(read.ok && read.value.capture.setup).toEqual(setup);
  });
  it('may be agreed in part', () => {
    for (const trialLimits of [{}, { longestDelay_s: 3 }, { high: { value: 3, unit: 'mbar' } }])
      expect(read({ trialLimits }).ok).toBe(true);
  });
  it.each([
    [
      'an upper limit below the lower one, in whatever units',
      { low: agreed.trialLimits.low, high: { value: 300, unit: 'Pa' } },
    ],
    ['a pressure without a unit', { low: 1.6 }],
    ['no delay at all', { longestDelay_s: 0 }],
    ['a method that nobody knows', { mostFailures: 2, method: 'halving' }],
    ['half a failure', { mostFailures: 1.5 }],
    ['no failure', { mostFailures: 0 }],
  ])('refuses %s, naming the key', (_, trialLimits) => {
    const found = read({ trialLimits });
    expect(found.ok ? undefined : found.fault).toMatchObject({
      code: 'setup-invalid',
      message: expect.stringContaining('trialLimits') as string,
    });
  });
  it('refuses a zero in a unit of another kind', () => {
    expect(read({ pressureZero: { value: 0.1, unit: 'V' } }).ok).toBe(false);
    expect(read({ darkSignal: { value: 0.1, unit: 'Pa' } }).ok).toBe(false);
    expect(read({ sparkOnlySignal: { value: 0.1 } }).ok).toBe(false);
  });
});
