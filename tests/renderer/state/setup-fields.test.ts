import { describe, expect, it } from 'vitest';
import { Setup } from '../../../shared/model/setup.ts';
import { readNumber } from '../../../renderer/state/setup/read-number.ts';
import { setupFromFields } from '../../../renderer/state/setup/read-setup-fields.ts';
import { emptySetupFields, fieldsFromSetup, mergeSetup } from '../../../renderer/state/setup/setup-fields.ts';

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
  pressureZero: { value: -0.02, unit: 'inH2O' },
  darkSignal: { value: 0, unit: 'V' },
  sparkOnlySignal: { value: 40, unit: 'mV' },
  lightOffPlan: { plain: 5, delayed: 2 },
  trialLimits: {
    low: { value: 1.4, unit: 'mbar' },
    high: { value: 3.9, unit: 'mbar' },
    longestDelay_s: 6,
    mostFailures: 2,
    method: 'langlie',
  },
};

describe('the setup fields', () => {
  it('give back what they were filled with', () => {
    const { setup, problems } = setupFromFields(fieldsFromSetup(whole));
    expect(setup).toEqual(whole);
    expect(problems).toEqual({});
    expect(Setup.safeParse(setup).success).toBe(true);
  });

  it('give back a claim, and limits of which only some were agreed', () => {
    const setup: Setup = {
      lightOffPlan: { probability: 0.95, confidence: 0.8, delayed: 0 },
      trialLimits: { high: { value: 3.9, unit: 'mbar' } },
    };
    expect(setupFromFields(fieldsFromSetup(setup))).toEqual({ setup, problems: {} });
  });

  it('show two limits in one unit, which a file may give in two', () => {
    const trialLimits = { low: { value: 1, unit: 'inH2O' }, high: { value: 1, unit: 'kPa' } } as const;
    const { setup } = setupFromFields(fieldsFromSetup({ trialLimits }));
    expect(setup.trialLimits!.low).toEqual(trialLimits.low);
    // 1 inH2O at 4 °C is 249.0889 Pa (NIST SP 811, B.8).
    expect(setup.trialLimits!.high!.unit).toBe('inH2O');
    expect(setup.trialLimits!.high!.value).toBeCloseTo(1000 / 249.0889, 4);
  });

  it('fill up a plan of which only a part was typed: three trials in a row and one delayed, or 90 % at 90 %', () => {
    const planOf = (part: Partial<typeof emptySetupFields>) =>
      setupFromFields({ ...emptySetupFields, ...part }).setup.lightOffPlan;
    expect(planOf({ planPlain: '4' })).toEqual({ plain: 4, delayed: 1 });
    expect(planOf({ planDelayed: '0' })).toEqual({ plain: 3, delayed: 0 });
    expect(planOf({ planKind: 'claim' })).toEqual({ probability: 0.9, confidence: 0.9, delayed: 1 });
    expect(planOf({ planKind: 'claim', claimPercent: '95', planPlain: '7' })).toMatchObject({ probability: 0.95 });
  });

  it('refuse limits and plans that are none', () => {
    const typed = { trialLow: '3', trialHigh: '2', longestDelay: '0', mostFailures: '1.5', planPlain: '-1' };
    const { setup, problems } = setupFromFields({ ...emptySetupFields, ...typed });
    expect(problems).toEqual({
      trialHigh: 'Must be above the lowest.',
      longestDelay: 'Must be above 0.',
      mostFailures: 'Must be a whole number, 1 or more.',
      planPlain: 'Must be a whole number, 0 or more.',
    });
    expect(setup).toEqual({ trialLimits: { low: { value: 3, unit: 'inH2O' } } });
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
