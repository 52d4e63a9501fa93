import { setupDefaults, type SetPointRule, type Setup } from '../../shared/model/setup.ts';
import type { PressureUnit, SignalUnit } from '../../shared/model/units.ts';

/** The form as typed, as text, so that nothing half-typed is ever lost. */
export interface SetupFields {
  makerLow: string;
  makerHigh: string;
  makerUnit: PressureUnit;
  minimumSignal: string;
  minimumSignalUnit: SignalUnit;
  dropPercent: string;
  trialSeconds: string;
  purgeSeconds: string;
  fanOnly: string;
  fanOnlyUnit: PressureUnit;
  pressurePercent: string;
  pressureAbsolute: string;
  pressureAbsoluteUnit: PressureUnit;
  signalPercent: string;
  signalAbsolute: string;
  signalAbsoluteUnit: SignalUnit;
  setPointRule: SetPointRule;
  confidencePercent: string;
}

export const emptySetupFields: SetupFields = {
  makerLow: '',
  makerHigh: '',
  makerUnit: 'inH2O',
  minimumSignal: '',
  minimumSignalUnit: 'V',
  dropPercent: '',
  trialSeconds: '',
  purgeSeconds: '',
  fanOnly: '',
  fanOnlyUnit: 'inH2O',
  pressurePercent: '',
  pressureAbsolute: '',
  pressureAbsoluteUnit: 'inH2O',
  signalPercent: '',
  signalAbsolute: '',
  signalAbsoluteUnit: 'V',
  setPointRule: setupDefaults.setPointRule,
  confidencePercent: '',
};

export type SetupProblems = Partial<Record<keyof SetupFields, string>>;

/** The keys of a setup that the form edits; it leaves the others (`asLeftPressure`, `seed`) alone. */
const formKeys = [
  'minimumSignal',
  'signalDropFraction',
  'makerPressureRange',
  'fanOnlyPressure',
  'pilotTrialSeconds',
  'purgeSeconds',
  'pressureAccuracy',
  'signalAccuracy',
  'setPointRule',
  'confidence',
] as const satisfies readonly (keyof Setup)[];

/** A number as typed, with decimal point or comma: undefined when empty, NaN when it is not a number. */
export function readNumber(text: string): number | undefined {
  const trimmed = text.trim().replace(',', '.').replace('\u2212', '-');
  if (trimmed === '') return undefined;
  return /^[+-]?(\d+\.?\d*|\.\d+)$/u.test(trimmed) ? Number(trimmed) : Number.NaN;
}

/** The setup in the form, and a sentence for each field that cannot be used. Such a field counts as empty. */
export function setupFromFields(fields: SetupFields): { setup: Setup; problems: SetupProblems } {
  const problems: SetupProblems = {};
  const number = (name: keyof SetupFields, accept: (value: number) => string | undefined): number | undefined => {
    const value = readNumber(fields[name]);
    if (value === undefined) return undefined;
    const problem = Number.isNaN(value) ? `"${fields[name].trim()}" is not a number.` : accept(value);
    if (problem) problems[name] = problem;
    return problem ? undefined : value;
  };
  const any = () => undefined;
  const aboveZero = (value: number) => (value > 0 ? undefined : 'Must be above 0.');
  const notBelowZero = (value: number) => (value >= 0 ? undefined : 'Must not be negative.');
  const between = (low: number, high: number) => (value: number) =>
    value >= low && value <= high ? undefined : `Must be between ${low} and ${high}.`;

  const low = number('makerLow', any);
  const high = number('makerHigh', any);
  if (low !== undefined && fields.makerHigh.trim() === '')
    problems.makerHigh = 'Enter both the minimum and the maximum.';
  if (high !== undefined && fields.makerLow.trim() === '')
    problems.makerLow = 'Enter both the minimum and the maximum.';
  if (low !== undefined && high !== undefined && low >= high) problems.makerHigh = 'Must be above the minimum.';
  const minimumSignal = number('minimumSignal', aboveZero);
  const drop = number('dropPercent', between(1, 90));
  const fanOnly = number('fanOnly', any);
  const confidence = number('confidencePercent', between(50, 99.9));
  const trialSeconds = number('trialSeconds', aboveZero);
  const purgeSeconds = number('purgeSeconds', aboveZero);
  const pressurePercent = number('pressurePercent', notBelowZero);
  const pressureAbsolute = number('pressureAbsolute', notBelowZero);
  const signalPercent = number('signalPercent', notBelowZero);
  const signalAbsolute = number('signalAbsolute', notBelowZero);

  const setup: Setup = {
    ...(low !== undefined &&
      high !== undefined &&
      low < high && { makerPressureRange: { low, high, unit: fields.makerUnit } }),
    ...(minimumSignal !== undefined && { minimumSignal: { value: minimumSignal, unit: fields.minimumSignalUnit } }),
    ...(drop !== undefined && { signalDropFraction: drop / 100 }),
    ...(fanOnly !== undefined && { fanOnlyPressure: { value: fanOnly, unit: fields.fanOnlyUnit } }),
    ...(trialSeconds !== undefined && { pilotTrialSeconds: trialSeconds }),
    ...(purgeSeconds !== undefined && { purgeSeconds }),
    ...((pressurePercent !== undefined || pressureAbsolute !== undefined) && {
      pressureAccuracy: {
        percentOfReading: pressurePercent ?? 0,
        absolute: pressureAbsolute ?? 0,
        unit: fields.pressureAbsoluteUnit,
      },
    }),
    ...((signalPercent !== undefined || signalAbsolute !== undefined) && {
      signalAccuracy: {
        percentOfReading: signalPercent ?? 0,
        absolute: signalAbsolute ?? 0,
        unit: fields.signalAbsoluteUnit,
      },
    }),
    ...(fields.setPointRule !== setupDefaults.setPointRule && { setPointRule: fields.setPointRule }),
    ...(confidence !== undefined && { confidence: confidence / 100 }),
  };
  return { setup, problems };
}

/** The form that shows `setup`. Units of what it leaves out stay as they are in `before`. */
export function fieldsFromSetup(setup: Setup, before: SetupFields = emptySetupFields): SetupFields {
  const text = (value: number | undefined) => (value === undefined ? '' : String(Number(value.toPrecision(12))));
  const range = setup.makerPressureRange;
  return {
    makerLow: text(range?.low),
    makerHigh: text(range?.high),
    makerUnit: range?.unit ?? before.makerUnit,
    minimumSignal: text(setup.minimumSignal?.value),
    minimumSignalUnit: setup.minimumSignal?.unit ?? before.minimumSignalUnit,
    dropPercent: text(setup.signalDropFraction && setup.signalDropFraction * 100),
    trialSeconds: text(setup.pilotTrialSeconds),
    purgeSeconds: text(setup.purgeSeconds),
    fanOnly: text(setup.fanOnlyPressure?.value),
    fanOnlyUnit: setup.fanOnlyPressure?.unit ?? before.fanOnlyUnit,
    pressurePercent: text(setup.pressureAccuracy?.percentOfReading),
    pressureAbsolute: text(setup.pressureAccuracy?.absolute),
    pressureAbsoluteUnit: setup.pressureAccuracy?.unit ?? before.pressureAbsoluteUnit,
    signalPercent: text(setup.signalAccuracy?.percentOfReading),
    signalAbsolute: text(setup.signalAccuracy?.absolute),
    signalAbsoluteUnit: setup.signalAccuracy?.unit ?? before.signalAbsoluteUnit,
    setPointRule: setup.setPointRule ?? setupDefaults.setPointRule,
    confidencePercent: text(setup.confidence && setup.confidence * 100),
  };
}

/** `stored` with everything that the form edits taken from `edited`, and the rest left as it was. */
export function mergeSetup(stored: Setup, edited: Setup): Setup {
  const rest = Object.fromEntries(
    Object.entries(stored).filter(([key]) => !(formKeys as readonly string[]).includes(key)),
  );
  return { ...rest, ...edited };
}
