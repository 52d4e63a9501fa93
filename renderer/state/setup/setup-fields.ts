import { setupDefaults, type SetPointRule, type Setup, type TrialMethod } from '../../../shared/model/setup.ts';
import { convertPressure, type PressureUnit, type SignalUnit } from '../../../shared/model/units.ts';

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
  pressureZero: string;
  pressureZeroUnit: PressureUnit;
  darkSignal: string;
  darkSignalUnit: SignalUnit;
  sparkOnlySignal: string;
  sparkOnlySignalUnit: SignalUnit;
  planKind: PlanKind;
  planPlain: string;
  planDelayed: string;
  claimPercent: string;
  claimConfidencePercent: string;
  trialLow: string;
  trialHigh: string;
  trialUnit: PressureUnit;
  longestDelay: string;
  mostFailures: string;
  trialMethod: TrialMethod | 'margin';
}

/** What proves a setting: so many trials in a row, or a probability to light that is shown without any failure. */
export const planKinds = ['row', 'claim'] as const;
export type PlanKind = (typeof planKinds)[number];

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
  pressureZero: '',
  pressureZeroUnit: 'inH2O',
  darkSignal: '',
  darkSignalUnit: 'V',
  sparkOnlySignal: '',
  sparkOnlySignalUnit: 'V',
  planKind: 'row',
  planPlain: '',
  planDelayed: '',
  claimPercent: '',
  claimConfidencePercent: '',
  trialLow: '',
  trialHigh: '',
  trialUnit: 'inH2O',
  longestDelay: '',
  mostFailures: '',
  trialMethod: 'margin',
};

interface PressureValue {
  value: number;
  unit: PressureUnit;
}

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
  'pressureZero',
  'darkSignal',
  'sparkOnlySignal',
  'lightOffPlan',
  'trialLimits',
] as const satisfies readonly (keyof Setup)[];

/** The form that shows `setup`. Units of what it leaves out stay as they are in `before`. */
export function fieldsFromSetup(setup: Setup, before: SetupFields = emptySetupFields): SetupFields {
  const text = (value: number | undefined) => (value === undefined ? '' : String(Number(value.toPrecision(12))));
  const range = setup.makerPressureRange;
  const { lightOffPlan: plan, trialLimits: limits } = setup;
  const claim = plan && 'probability' in plan ? plan : undefined;
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
    pressureZero: text(setup.pressureZero?.value),
    pressureZeroUnit: setup.pressureZero?.unit ?? before.pressureZeroUnit,
    darkSignal: text(setup.darkSignal?.value),
    darkSignalUnit: setup.darkSignal?.unit ?? before.darkSignalUnit,
    sparkOnlySignal: text(setup.sparkOnlySignal?.value),
    sparkOnlySignalUnit: setup.sparkOnlySignal?.unit ?? before.sparkOnlySignalUnit,
    planKind: claim ? 'claim' : 'row',
    planPlain: text(plan && 'plain' in plan ? plan.plain : undefined),
    planDelayed: text(plan?.delayed),
    claimPercent: text(claim && claim.probability * 100),
    claimConfidencePercent: text(claim && claim.confidence * 100),
    trialLow: text(limits?.low?.value),
    trialHigh: text(limits?.high && inUnitOf(limits.low ?? limits.high, limits.high)),
    trialUnit: (limits?.low ?? limits?.high)?.unit ?? before.trialUnit,
    longestDelay: text(limits?.longestDelay_s),
    mostFailures: text(limits?.mostFailures),
    trialMethod: limits?.method ?? 'margin',
  };
}

/** `stored` with everything that the form edits taken from `edited`, and the rest left as it was. */
export function mergeSetup(stored: Setup, edited: Setup): Setup {
  const rest = Object.fromEntries(
    Object.entries(stored).filter(([key]) => !(formKeys as readonly string[]).includes(key)),
  );
  return { ...rest, ...edited };
}

/** A pressure in the unit of another: both limits share one unit in the form. */
const inUnitOf = (other: PressureValue, { value, unit }: PressureValue): number =>
  convertPressure(value, unit, other.unit);
