import { formatConfidence, formatLowerBound, formatPressure } from '../model/format.ts';
import type { PressureUnit } from '../model/units.ts';
import { type LightOffAt, settingOf, type TrialCount } from './at-setting.ts';

/**
 * What the trials at one setting prove, by the spark: "with the spark at once lit 3 of 3: at least 37 % at 95 % confidence". Trials at other
 * pressures have no part in it, and where none lit nothing is claimed.
 *
 * @param confidence  of the lower bounds, one-sided
 */
export function countWords({ plain, delayed }: Pick<LightOffAt, 'plain' | 'delayed'>, confidence: number): string[] {
  const count = (kind: string, { trials, lit, lowerBound }: TrialCount) => {
    if (trials === 0) return [];
    const bound =
      lit > 0 ? `: at least ${formatLowerBound(lowerBound)} at ${formatConfidence(confidence)} confidence` : '';
    return [`${kind} lit ${lit} of ${trials}${bound}`];
  };
  return [...count('with the spark at once', plain), ...count('with the spark delayed', delayed)];
}

/** What is said of trials where there is neither a set point nor a pressure as left. */
export const noSettingWords = 'There is no set point and no pressure as left, so they prove nothing about a setting.';

/** The same in a line: "proves at least 37 % with the spark at once and 5 % with it delayed, at 95 % confidence". Undefined where none lit there. */
export function boundWords(
  { plain, delayed }: Pick<LightOffAt, 'plain' | 'delayed'>,
  confidence: number,
): string | undefined {
  // All that were made there count, those before the last failure too: a plan beside it counts the row since.
  const bound = (kind: string, { trials, lit, lowerBound }: TrialCount) =>
    lit > 0 ? [`${formatLowerBound(lowerBound)} ${kind}${lit < trials ? ` (${lit} of ${trials} lit)` : ''}`] : [];
  const bounds = [...bound('with the spark at once', plain), ...bound('with it delayed', delayed)];
  if (bounds.length === 0) return undefined;
  return `proves at least ${bounds.join(' and ')}, at ${formatConfidence(confidence)} confidence`;
}

/** Which setting that is: "2.28 inH2O, as left". Empty where there is none. */
export function settingWords(proved: Parameters<typeof settingOf>[0], unit: PressureUnit): string {
  const at = settingOf(proved);
  return at ? `${formatPressure(at.pressure, unit)}, ${proved?.atAsLeft ? 'as left' : 'the set point'}` : '';
}
