import { describe, expect, it } from 'vitest';
import { Setup } from '../../shared/model/setup.ts';
import {
  emptySetupFields,
  fieldsFromSetup,
  mergeSetup,
  readNumber,
  setupFromFields,
} from '../../renderer/state/setup-fields.ts';

const whole: Setup = {
  minimumSignal: { value: 1.25, unit: 'V' },
  signalDropFraction: 0.1,
  makerPressureRange: { low: 1.5, high: 4, unit: 'mbar' },
  fanOnlyPressure: { value: 0.2, unit: 'inH2O' },
  pilotTrialSeconds: 15,
  purgeSeconds: 90,
  pressureAccuracy: { percentOfReading: 0.5, absolute: 0.01, unit: 'inH2O' },
  signalAccuracy: { percentOfReading: 0.3, absolute: 2, unit: 'mV' },
  setPointRule: 'equal-flow',
  confidence: 0.99,
};

describe('the setup fields', () => {
  it('give back what they were filled with', () => {
    const { setup, problems } = setupFromFields(fieldsFromSetup(whole));
    expect(setup).toEqual(whole);
    expect(problems).toEqual({});
    expect(Setup.safeParse(setup).success).toBe(true);
  });

  it('give an empty setup when nothing was typed', () => {
    expect(setupFromFields(emptySetupFields)).toEqual({ setup: {}, problems: {} });
  });

  it('accept a decimal comma', () => {
    const { setup } = setupFromFields({ ...emptySetupFields, fanOnly: ' 0,25 ' });
    expect(setup.fanOnlyPressure).toEqual({ value: 0.25, unit: 'inH2O' });
  });

  it('report a field that cannot be used and leave it out of the setup', () => {
    const { setup, problems } = setupFromFields({
      ...emptySetupFields,
      makerLow: '4',
      makerHigh: '1.5',
      minimumSignal: 'a lot',
      trialSeconds: '-3',
      confidencePercent: '101',
      purgeSeconds: '45',
    });
    expect(setup).toEqual({ purgeSeconds: 45 });
    expect(problems).toEqual({
      makerHigh: 'Must be above the minimum.',
      minimumSignal: '"a lot" is not a number.',
      trialSeconds: 'Must be above 0.',
      confidencePercent: 'Must be between 50 and 99.9.',
    });
  });

  it('require both ends of the range', () => {
    expect(setupFromFields({ ...emptySetupFields, makerLow: '1' }).problems).toEqual({
      makerHigh: 'Enter both the minimum and the maximum.',
    });
  });

  it('keep the unit of a field that is empty', () => {
    expect(fieldsFromSetup({}, { ...emptySetupFields, makerUnit: 'Pa' }).makerUnit).toBe('Pa');
  });
});

it('reads numbers strictly: text that is only partly a number is not one', () => {
  expect(readNumber('')).toBeUndefined();
  expect(readNumber('.5')).toBe(0.5);
  expect(readNumber('5.')).toBe(5);
  for (const text of ['1.2.3', '1e3', '0x10', '5 V', '-', 'Infinity']) expect(readNumber(text)).toBeNaN();
});

it('keeps what the form does not edit in a setup, and removes what was emptied in the form', () => {
  const asLeftPressure = { value: 2.4, unit: 'inH2O' as const };
  expect(mergeSetup({ ...whole, asLeftPressure, seed: 7 }, { purgeSeconds: 30 })).toEqual({
    asLeftPressure,
    seed: 7,
    purgeSeconds: 30,
  });
});
