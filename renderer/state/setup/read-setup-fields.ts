import { usualClaim, usualPlan } from '../../../shared/light-off/plan.ts';
import { setupDefaults, type Setup } from '../../../shared/model/setup.ts';
import { readNumber } from './read-number.ts';
import type { SetupFields } from './setup-fields.ts';

export type SetupProblems = Partial<Record<keyof SetupFields, string>>;

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

  const wholeFrom = (least: number) => (value: number) =>
    Number.isInteger(value) && value >= least ? undefined : `Must be a whole number, ${least} or more.`;
  const quantity = <U>(value: number | undefined, unit: U) => (value === undefined ? undefined : { value, unit });
  const present = <T extends object>(parts: { [K in keyof T]: T[K] | undefined }) =>
    Object.fromEntries(Object.entries(parts).filter(([, value]) => value !== undefined)) as Partial<T>;
  const zeros = present({
    pressureZero: quantity(number('pressureZero', any), fields.pressureZeroUnit),
    darkSignal: quantity(number('darkSignal', any), fields.darkSignalUnit),
    sparkOnlySignal: quantity(number('sparkOnlySignal', any), fields.sparkOnlySignalUnit),
  });
  const trialLow = number('trialLow', any);
  const trialHigh = number('trialHigh', (value) =>
    trialLow !== undefined && value <= trialLow ? 'Must be above the lowest.' : undefined,
  );
  const limits = present({
    low: quantity(trialLow, fields.trialUnit),
    high: quantity(trialHigh, fields.trialUnit),
    longestDelay_s: number('longestDelay', aboveZero),
    mostFailures: number('mostFailures', wholeFrom(1)),
    method: fields.trialMethod === 'margin' ? undefined : fields.trialMethod,
  });
  const delayed = number('planDelayed', wholeFrom(0));
  const plain = fields.planKind === 'row' ? number('planPlain', wholeFrom(0)) : undefined;
  const share = (name: 'claimPercent' | 'claimConfidencePercent') =>
    fields.planKind === 'claim' ? number(name, between(1, 99.9)) : undefined;
  const [probability, claimConfidence] = [share('claimPercent'), share('claimConfidencePercent')];
  const lightOffPlan =
    fields.planKind === 'claim'
      ? {
          probability: probability === undefined ? usualClaim.probability : probability / 100,
          confidence: claimConfidence === undefined ? usualClaim.confidence : claimConfidence / 100,
          delayed: delayed ?? usualPlan.delayed,
        }
      : plain === undefined && delayed === undefined
        ? undefined
        : { plain: plain ?? usualPlan.plain, delayed: delayed ?? usualPlan.delayed };

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
    ...zeros,
    ...(lightOffPlan && { lightOffPlan }),
    ...(Object.keys(limits).length > 0 && { trialLimits: limits }),
  };
  return { setup, problems };
}
