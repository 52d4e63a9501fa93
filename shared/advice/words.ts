import type { CountedTrial } from '../light-off/at-setting.ts';
import { lateSparkWords, sparkWords } from '../light-off/delay-limit.ts';
import { formatPressure } from '../model/format.ts';
import type { TrialMethod } from '../model/setup.ts';
import { convertPressure, type PressureUnit } from '../model/units.ts';
import { farthest } from './candidates.ts';
import { type MethodEnd, thresholdOf } from './methods.ts';
import type { Side } from './side.ts';
import type { Range, Situation } from './situation.ts';

/** What to do where a trial is made. */
export const trialCaution =
  'Purge in full before it, stand clear of the sight port and the burner door, and shut the gas at once if it does not light.';
/** In addition for a spark that comes late. */
export const delayCaution =
  'Unburned gas collects until the delayed spark: agree on it with everyone there, and never make the delay longer.';

/** Names of the tests of the threshold, by their authors. */
export const methodNames: Record<TrialMethod, string> = {
  'up-and-down': 'Up and down (Dixon and Mood)',
  langlie: "Langlie's one-shot test",
  neyer: "Neyer's D-optimal test",
};

/** What a test of the threshold does, what it may cost, and what to do about it. */
export const methodWords = (mostFailures: number): string =>
  `It looks for the pressure where half of the trials fail and may cost ${mostFailures} failures on each side. Where it fails at a pressure that lit, the window ends inside of that pressure; without a pressure as left there may be no set point then. Each failure leaves unburned gas: shut the gas at once and purge in full.`;

/** Why a test of the threshold cannot be chosen, or is not followed. */
export const noMethodWords = 'Tests that look for failures need two or more failures agreed on a side.';

type Setting = NonNullable<Situation['setting']>;

/** Why no trial may be made at a setting: no limits, or a setting beyond one. Undefined where it may. */
export function outsideWords(situation: Situation, { pressure, words }: Setting, allowed: Range): string | undefined {
  const { unit, window, tested } = situation;
  const { low, high } = allowed;
  const at = (value: number) => formatPressure(value, unit);
  if (low === undefined && high === undefined)
    return "Neither the maker's pilot pressure range nor limits for trials are known. Enter one of them before any trial.";
  const setting = `${at(pressure)}, ${words},`;
  if (low !== undefined && high !== undefined && low > high)
    return "The maker's range and the limits that were agreed have no pressure in common.";
  if ((low !== undefined && pressure < low) || (high !== undefined && pressure > high)) {
    const range = [
      ...(low === undefined ? [] : [`from ${at(low)}`]),
      ...(high === undefined ? [] : [`to ${at(high)}`]),
    ];
    return `${setting} is outside what maker and agreed limits allow, ${range.join(' ')}. No trial is made there.`;
  }
  // Beyond an end that was found no sweep is made: the flame may be lost there.
  const isBeyondEnd =
    window &&
    ((pressure < window.low && tested.low < window.low) || (pressure > window.high && window.high < tested.high));
  if (!isBeyondEnd && (pressure < tested.low || pressure > tested.high))
    return `${setting} is outside the pressures of the sweep, ${at(tested.low)} to ${at(tested.high)}. Sweep there first.`;
  if (!window) return 'There is no window of good pressures, so no trial is made.';
  if (pressure < window.low || pressure > window.high)
    return `${setting} is outside the window, ${at(window.low)} to ${at(window.high)}. Set it inside first.`;
  return undefined;
}

/** Failures with pressures further out that lit. A test of the threshold expects them. */
export function contradictionWords(sides: readonly Side[], unit: PressureUnit, isTest: boolean): string[] {
  const failed = sides.flatMap(({ contradicting }) => contradicting).sort((a, b) => a - b);
  if (failed.length === 0) return [];
  const at = [...new Set(failed.map((pressure) => formatPressure(pressure, unit)))].join(', ');
  return [
    `It failed at ${at}, although it lit further out. Nothing beyond a failure counts${isTest ? '' : '; find out why'}.`,
  ];
}

/** Why the delayed spark that the plan needs is not advised: one that came no later failed. `at`: the setting, in words. */
export function failedDelayWords(failed: CountedTrial, at: string, unit: PressureUnit): string {
  const pressure = formatPressure(convertPressure(failed.pressure, failed.unit, unit), unit);
  return `The plan needs a delayed spark at ${at}, but at ${pressure} it did not light ${sparkWords(failed)}: no ${lateSparkWords(failed)} is advised. Find out why it failed first.`;
}

/** Why there is no next trial, side by side. */
export function closingWords(
  sides: readonly Side[],
  setting: Setting,
  delayedStillNeeded: number,
  unit: PressureUnit,
  endOfTest: ((side: Side) => MethodEnd | undefined) | undefined,
): string {
  const head =
    delayedStillNeeded > 0
      ? 'The plan is met with the spark at once only.'
      : `The plan is met at ${formatPressure(setting.pressure, unit)}, ${setting.words}.`;
  const each = sides.map((side) => {
    const sign = side.name === 'high' ? 1 : -1;
    const at = (distance: number) => formatPressure(setting.pressure + sign * distance, unit);
    const lit = side.proved > 0 ? `it lit out to ${at(side.proved)}` : 'nothing further out is shown to light';
    const why = !side.isLimited
      ? `no ${side.name}est pressure for trials is known: enter the maker's range or the limit that was agreed`
      : side.closed
        ? `${failureWords(side.failures)}, so it is not tried further`
        : endOfTest
          ? testEndWords[endOfTest(side) ?? 'made']
          : farthest(side) < side.reach
            ? 'nothing shows that it lights further out, where a trial is assumed to fail in more than one of four visits, the most that is risked on a side; more trials there change nothing'
            : `it is not tried beyond ${side.limitedBy}, and more trials there change nothing`;
    return [`On the ${side.name} side ${lit}; ${why}.`, ...(endOfTest ? [thresholdWords(side, at)] : [])].join(' ');
  });
  return [head, ...each].join(' ');
}

/** Where the failures were that close a side; none of them on the side itself: at the setting. */
const failureWords = (onSide: number): string =>
  onSide === 0
    ? 'a trial failed at the setting itself'
    : `${onSide === 1 ? 'a trial' : `${onSide} trials`} failed there`;

const testEndWords: Record<MethodEnd, string> = {
  made: 'the trials of the test are made',
  'at-limit': 'it lit at the limit each time, so more trials there change nothing',
  'at-setting': 'the next level of the test is the setting itself, so the test ends there',
};

/** What a test of the threshold found on a side. */
function thresholdWords(side: Side, at: (distance: number) => string): string {
  const { responses } = side;
  const failed = responses.filter(({ responded }) => responded).map(({ level }) => level);
  const lit = responses.filter(({ responded }) => !responded).map(({ level }) => level);
  if (responses.length === 0) return 'No trial of the test was made there.';
  if (failed.length === 0) return 'None failed, so where half of them fail was not found.';
  if (lit.length === 0) return 'None lit, so where half of them fail was not found.';
  const found = thresholdOf(side);
  if (found)
    return `Half of the trials are estimated to fail at about ${at(found.mu)}, from ${responses.length} trials.`;
  const [outermost, innermost] = [Math.max(...lit), Math.min(...failed)];
  return outermost < innermost
    ? `Between ${at(outermost)}, which lit, and ${at(innermost)}, which failed, lighting ends; ${responses.length} trials tell no more.`
    : 'The trials do not tell where half of them fail.';
}

/** Why no trial is advised where none of those made lit. */
export const noneLitWords = (trials: number): string =>
  `${trials === 1 ? 'The only trial did not light' : `None of the ${trials} trials lit`}. Purge in full and find out why before any further trial.`;
