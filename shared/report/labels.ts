import type { Cause, ComparedQuantity, Decision, Explanation, IntervalStatus } from '../model/analysis-result.ts';
import { formatPercent, formatSeconds } from '../model/format.ts';
import type { Role } from '../model/reading.ts';
import type { SetPointRule } from '../model/setup.ts';

/** What set an end, in the fewest words that a technician understands. */
export const causeLabels: Record<Cause, string> = {
  signal: 'flame signal below what is required',
  unsteady: 'flame signal not steady',
  'flame-lost': 'flame lost',
  'light-off': 'light-off trials',
  'maker-range': "end of the maker's range",
  'tested-end': 'not tested further',
};

export const statusSentences: Record<IntervalStatus, string> = {
  bounded: 'Both ends were found.',
  'open-low': 'The low end was not reached: the signal was still good at the lowest pressure that was tested.',
  'open-high': 'The high end was not reached: the signal was still good at the highest pressure that was tested.',
  'open-both': 'Neither end was reached: the signal was good over all pressures that were tested.',
  none: 'There is no pressure at which every piece of evidence holds.',
};

export const decisionLabels: Record<Decision, string> = {
  pass: 'Pass',
  'conditional-pass': 'Conditional pass',
  'conditional-fail': 'Conditional fail',
  fail: 'Fail',
};

/** ILAC-G8:09/2019, non-binary statement with guard band, said of a pressure in its window. */
export const decisionSentences: Record<Decision, string> = {
  pass: 'It lies inside the window by more than the uncertainty of the ends.',
  'conditional-pass': 'It lies inside the window, but nearer to an end than the uncertainty of that end.',
  'conditional-fail': 'It lies outside the window, but by less than the uncertainty of that end.',
  fail: 'It lies outside the window by more than the uncertainty of that end.',
};

/**
 * A probability as per cent, never rounded to certainty: "97.7 %", "more than 99.9 %". Beyond that the doubt of the ends is not known well enough for
 * more digits.
 */
export function formatProbability(probability: number): string {
  if (probability > 0.999) return 'more than 99.9 %';
  return probability < 0.001 ? 'less than 0.1 %' : formatPercent(probability, 1);
}

export const ruleLabels: Record<SetPointRule, string> = {
  'equal-pressure': 'the same margin in pressure on both sides',
  'equal-flow': 'the same margin in gas flow on both sides (square root of the pressure above fan-only pressure)',
  'equal-ratio': 'the same ratio of pressures on both sides',
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
  lowEdge: 'Low end of the signal',
  highEdge: 'High end of the signal',
  plateau: 'Plateau',
  windowWidth: 'Width between them',
  noise: 'Noise on the plateau',
  lag: 'Lag of the signal',
};

/** "1.4 s (5 turns)"; hand and manometer included, so the regulator is no slower. */
export function formatSettling({ settleS, turns, overshoot }: NonNullable<Explanation['stepResponse']>): string {
  const past = overshoot === undefined ? '' : `, past it by ${formatPercent(overshoot)} of the step`;
  return `${formatSeconds(settleS)} (${turns} turns)${past}`;
}
