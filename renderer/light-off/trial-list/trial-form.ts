import type { StoredTrial } from '../../../shared/contract/api.ts';
import { formatNumber, pressureNumber } from '../../../shared/model/format.ts';
import { convertPressure, type PressureUnit } from '../../../shared/model/units.ts';
import { readNumber } from '../../state/setup/read-number.ts';

/** When the spark of a trial came. */
export const sparkChoices = ['with-gas', 'delayed', 'unknown'] as const;
export type SparkChoice = (typeof sparkChoices)[number];

/** A trial as typed: text, so that nothing half-typed is lost. Times in seconds; the pressure in the unit that is displayed. */
export interface TrialForm {
  pressure: string;
  /** Undefined until somebody has chosen: a result that nobody has seen is none. */
  lit: boolean | undefined;
  spark: SparkChoice;
  sparkDelay: string;
  timeToProve: string;
  reason: string;
}

export const emptyTrialForm: TrialForm = {
  pressure: '',
  lit: undefined,
  spark: 'with-gas',
  sparkDelay: '',
  timeToProve: '',
  reason: '',
};

/** The form of a trial that is in the record. */
export function formOf(trial: StoredTrial, unit: PressureUnit): TrialForm {
  const { sparkDelayS, timeToProveS } = trial;
  return {
    pressure: pressureNumber(convertPressure(trial.pressure, trial.unit, unit), unit),
    lit: trial.lit,
    spark: sparkDelayS === undefined ? 'unknown' : sparkDelayS > 0 ? 'delayed' : 'with-gas',
    sparkDelay: sparkDelayS ? formatNumber(sparkDelayS, 1) : '',
    timeToProve: timeToProveS === undefined ? '' : formatNumber(timeToProveS, 1),
    reason: '',
  };
}

export type TrialProblems = Partial<Record<'pressure' | 'lit' | 'sparkDelay' | 'timeToProve' | 'reason', string>>;

/** What cannot be used of a form, by field. */
export function problemsOf(form: TrialForm, needsReason: boolean): TrialProblems {
  const notNegative = (text: string) => !(Number(readNumber(text)) >= 0);
  return {
    ...(!Number.isFinite(readNumber(form.pressure) ?? Number.NaN) && { pressure: 'Enter the pressure with gas on.' }),
    ...(form.lit === undefined && { lit: 'Choose the result.' }),
    ...(form.spark === 'delayed' && !(Number(readNumber(form.sparkDelay)) > 0) && { sparkDelay: 'Must be above 0 s.' }),
    ...(form.lit &&
      form.timeToProve.trim() !== '' &&
      notNegative(form.timeToProve) && { timeToProve: 'Must be a time.' }),
    ...(needsReason && form.reason.trim() === '' && { reason: 'Say why.' }),
  };
}

/** Seconds from gas to spark as the form says; undefined: not known. */
const delayOf = ({ spark, sparkDelay }: TrialForm): number | undefined =>
  spark === 'with-gas' ? 0 : spark === 'delayed' ? readNumber(sparkDelay) : undefined;

/** The facts of a form without problems, for a trial that is added by hand. */
export function trialOf(form: TrialForm, unit: PressureUnit) {
  const sparkDelayS = delayOf(form);
  const timeToProveS = form.lit ? readNumber(form.timeToProve) : undefined;
  return {
    pressure: readNumber(form.pressure)!,
    unit,
    lit: form.lit === true,
    ...(sparkDelayS !== undefined && { sparkDelayS }),
    ...(timeToProveS !== undefined && { timeToProveS }),
  };
}

/** What a form without problems changes of the trial it was made from; a fact whose text is as it was stays to its last digit. */
export function changesOf(trial: StoredTrial, form: TrialForm, unit: PressureUnit) {
  const was = formOf(trial, unit);
  const isSparkChanged = form.spark !== was.spark || (form.spark === 'delayed' && form.sparkDelay !== was.sparkDelay);
  return {
    ...(form.pressure !== was.pressure && { pressure: readNumber(form.pressure)!, unit }),
    ...(form.lit !== undefined && form.lit !== was.lit && { lit: form.lit }),
    ...(isSparkChanged && { sparkDelayS: delayOf(form) ?? null }),
    ...(form.lit && form.timeToProve !== was.timeToProve && { timeToProveS: readNumber(form.timeToProve) ?? null }),
  };
}
