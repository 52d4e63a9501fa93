import type {
  AnalysisResult,
  Cause,
  ComparedQuantity,
  Decision,
  Explanation,
  IntervalStatus,
} from '../model/results/analysis-result.ts';
import { formatPercent, formatSeconds } from '../model/format.ts';
import type { Role } from '../model/reading.ts';
import type { SetPointRule } from '../model/setup.ts';

/** What sets an end, in as few words as a technician needs. */
export const causeLabels: Record<Cause, string> = {
  signal: 'flame signal below the required signal',
  unsteady: 'unsteady flame signal',
  'flame-lost': 'flame lost',
  'light-off': 'light-off trials',
  'maker-range': "the maker's range",
  'tested-end': 'not tested beyond',
};

const statusSentences: Record<IntervalStatus, string> = {
  bounded: 'Both ends were found.',
  'open-low': 'The low end was not reached: the signal was still good at the lowest tested pressure.',
  'open-high': 'The high end was not reached: the signal was still good at the highest tested pressure.',
  'open-both': 'Neither end was reached: the signal was good at all tested pressures.',
  none: 'No pressure satisfies all the evidence.',
};

/** Which ends were found, in a sentence; `isGood`: both are known, and the set point between them is not provisional. */
export function statusSentence({
  window: { status },
  setPoint,
  warnings,
}: Pick<AnalysisResult, 'window' | 'setPoint' | 'warnings'>): { text: string; isGood: boolean } {
  if (status !== 'bounded') return { text: statusSentences[status], isGood: false };
  if (warnings.some(({ code }) => code === 'plateau-unknown'))
    return { text: 'The ends are not known: the plateau that they follow from is not.', isGood: false };
  if (!setPoint) return { text: 'Two ends were found, and no set point between them.', isGood: false };
  return { text: statusSentences.bounded, isGood: !setPoint.provisional };
}

/** Light-off trials lit and failed at one setting amid the signal, so that there is nothing to set. */
export const isLightOffUnclear = ({ warnings }: Pick<AnalysisResult, 'warnings'>): boolean =>
  warnings.some(({ code }) => code === 'light-off-unclear');

export const decisionLabels: Record<Decision, string> = {
  pass: 'Pass',
  'conditional-pass': 'Conditional pass',
  'conditional-fail': 'Conditional fail',
  fail: 'Fail',
};

/** What each decision of ILAC-G8:09/2019 (non-binary statement with guard band) means for a pressure and its window. */
export const decisionSentences: Record<Decision, string> = {
  pass: 'It is inside the window by more than the uncertainty of the ends.',
  'conditional-pass': 'It is inside the window, but closer to an end than the uncertainty of that end.',
  'conditional-fail': 'It is outside the window, but by less than the uncertainty of that end.',
  fail: 'It is outside the window by more than the uncertainty of that end.',
};

type AsLeft = NonNullable<AnalysisResult['asLeft']>;

/** Its distances to the guarded ends, inward above 0; undefined where there is no window. */
export const marginsOf = ({ marginLow, marginHigh }: AsLeft): { low: number; high: number } | undefined =>
  marginLow === undefined || marginHigh === undefined ? undefined : { low: marginLow, high: marginHigh };

/** Inside both guarded ends no end limits a decision: light-off does, or doubt about the readings, which has the cause `signal`. */
function isInside(asLeft: AsLeft): boolean {
  const margins = marginsOf(asLeft);
  return margins !== undefined && margins.low >= 0 && margins.high >= 0;
}

/** What keeps the decision on the pressure as left from being a better one, in words. */
export const limitsInWords = (asLeft: AsLeft): string[] =>
  (asLeft.limitedBy ?? []).map((cause) =>
    cause !== 'light-off' && isInside(asLeft) ? 'doubt about the readings' : causeLabels[cause],
  );

/** What the decision on the pressure as left means, and whether light-off there is proved, or failed. */
export function decisionSentence(asLeft: AsLeft, lightOff: AnalysisResult['lightOff']): string {
  const { decision, limitedBy = [] } = asLeft;
  if (!marginsOf(asLeft)) return `There is no window. At this pressure: ${limitsInWords(asLeft).join(', ')}.`;
  const unproved = limitedBy.includes('light-off');
  const { plain, delayed, neither } = lightOff?.atAsLeft ?? {};
  const hasFailed = [plain, delayed, neither].some((count) => count && count.lit < count.trials);
  // With the plan met, an end that is too near limits it; inside both ends, trials elsewhere that contradict each other do.
  const proved = isInside(asLeft)
    ? 'light-off trials contradict each other elsewhere'
    : limitedBy.length === 1
      ? 'light-off trials set that end'
      : 'light-off trials limit it too';
  const unproven = lightOff?.planMet ? proved : 'light-off is not proved';
  const lighting = hasFailed ? 'a light-off failed there' : unproven;
  if (limitedBy.length === 1 && unproved && isInside(asLeft)) return `It is inside the signal window; ${lighting}.`;
  // The decision may come from the failure alone: then it does not tell on which side of the end the pressure lies.
  if (decision === 'conditional-fail' && hasFailed && !lightOff?.planMet)
    return 'A light-off failed there, and the light-off plan has not been met since.';
  if (decision === 'pass' && hasFailed)
    return `${decisionSentences[decision]} A light-off failed there before; the light-off plan has been met since.`;
  if (limitedBy.length === 0 || !isInside(asLeft))
    return `${decisionSentences[decision]}${unproved ? ` ${lighting[0]!.toUpperCase()}${lighting.slice(1)}.` : ''}`;
  const limits = [
    ...(limitedBy.some((cause) => cause !== 'light-off') ? ['the readings leave doubt (see the warnings)'] : []),
    ...(unproved ? [lighting] : []),
  ];
  return `It is inside the window, but ${limits.join(' and ')}.`;
}

/** Why the set point is provisional, as a sentence; undefined where it is not. */
export const reasonForProvisional = ({ warnings }: AnalysisResult): string | undefined =>
  warnings.find(({ code }) => code === 'set-point-provisional')?.message;

/** Why there is no set point. */
export const reasonForNone = ({ warnings }: AnalysisResult): string =>
  warnings.find(({ code }) => code === 'light-off-unclear' || code === 'plateau-unknown')?.message ??
  'No pressure satisfies all the evidence.';

/**
 * A probability as percent, never rounded to certainty: "97.7 %", "more than 99.9 %". The uncertainty of the ends is not
 * known well enough for more digits.
 */
export function formatProbability(probability: number): string {
  if (probability > 0.999) return 'more than 99.9 %';
  return probability < 0.001 ? 'less than 0.1 %' : formatPercent(probability, 1);
}

export const ruleLabels: Record<SetPointRule, string> = {
  'equal-pressure': 'equal pressure margin on both sides',
  'equal-flow': 'equal gas flow margin on both sides (square root of the pressure above fan-only pressure)',
  'equal-ratio': 'equal pressure ratio on both sides',
};

export const roleLabels: Record<Role, string> = {
  pilot_pressure: 'Pilot pressure',
  fan_pressure: 'Fan pressure',
  supply_pressure: 'Supply pressure',
  furnace_pressure: 'Furnace pressure',
  flame_signal: 'Flame signal',
  damper_position: 'Damper position',
  ignition: 'Ignition',
  pilot_valve: 'Pilot valve',
};

export const quantityLabels: Record<ComparedQuantity, string> = {
  lowEdge: 'Low end of good signal',
  highEdge: 'High end of good signal',
  plateau: 'Plateau',
  windowWidth: 'Width between the ends',
  noise: 'Noise on the plateau',
  lag: 'Signal lag',
};

/** Settling time of the pressure after a turn: "1.4 s (5 turns), overshoot 13 % of the step". */
export function formatSettling({ settleS, turns, overshoot }: NonNullable<Explanation['stepResponse']>): string {
  const overshootText = overshoot === undefined ? '' : `, overshoot ${formatPercent(overshoot)} of the step`;
  return `${formatSeconds(settleS)} (${turns} turns)${overshootText}`;
}
