import { describe, expect, it } from 'vitest';
import {
  changesOf,
  emptyTrialForm,
  formOf,
  problemsOf,
  trialOf,
} from '../../../renderer/light-off/trial-list/trial-form.ts';

const trial = { id: 3, pressure: 2.3456, unit: 'inH2O', lit: true, timeToProveS: 2.468, knownBy: 'meters' } as const;
const form = formOf(trial, 'inH2O');

describe('the correction of a trial', () => {
  it('changes nothing where nothing was typed: the last digits stay', () => {
    expect(form).toMatchObject({ pressure: '2.35', spark: 'unknown', timeToProve: '2.5' });
    expect(changesOf(trial, form, 'inH2O')).toEqual({});
  });
  it('confirms the spark alone', () => {
    expect(changesOf(trial, { ...form, spark: 'with-gas' }, 'inH2O')).toEqual({ sparkDelayS: 0 });
    expect(changesOf(trial, { ...form, spark: 'delayed', sparkDelay: '5,5' }, 'inH2O')).toEqual({ sparkDelayS: 5.5 });
  });
  it('can take back what is not known after all', () => {
    const known = { ...trial, sparkDelayS: 5 };
    expect(changesOf(known, { ...formOf(known, 'inH2O'), spark: 'unknown', timeToProve: '' }, 'inH2O')).toEqual({
      sparkDelayS: null,
      timeToProveS: null,
    });
  });
  it('gives the pressure in the unit that is displayed, and the verdict', () => {
    const inPa = formOf(trial, 'Pa');
    expect(changesOf(trial, { ...inPa, pressure: '600', lit: false }, 'Pa')).toEqual({
      pressure: 600,
      unit: 'Pa',
      lit: false,
    });
  });
  it('names each field that cannot be used', () => {
    expect(problemsOf(form, false)).toEqual({});
    const wrong = { ...form, pressure: 'x', spark: 'delayed' as const, sparkDelay: '0', timeToProve: '-1' };
    expect(Object.keys(problemsOf(wrong, true))).toEqual(['pressure', 'sparkDelay', 'timeToProve', 'reason']);
    expect(problemsOf({ ...form, lit: false, timeToProve: 'x' }, false)).toEqual({});
  });
});

it('a trial that is added by hand has no result before somebody has chosen one', () => {
  const typed = { ...emptyTrialForm, pressure: '2.4' };
  expect(problemsOf(typed, false)).toEqual({ lit: 'Choose the result.' });
  expect(problemsOf({ ...typed, lit: false }, false)).toEqual({});
});

it('a trial that is added by hand has what was typed', () => {
  expect(trialOf({ ...emptyTrialForm, lit: true, pressure: '2.4', timeToProve: '3' }, 'inH2O')).toEqual({
    pressure: 2.4,
    unit: 'inH2O',
    lit: true,
    sparkDelayS: 0,
    timeToProveS: 3,
  });
  expect(trialOf({ ...emptyTrialForm, pressure: '2.4', lit: false, spark: 'unknown', timeToProve: '3' }, 'Pa')).toEqual(
    {
      pressure: 2.4,
      unit: 'Pa',
      lit: false,
    },
  );
});
