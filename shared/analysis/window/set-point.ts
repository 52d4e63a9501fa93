import type { AnalysisResult, Cause, Decision, WindowEnd } from '../../model/results/analysis-result.ts';
import type { SetPointRule } from '../../model/setup.ts';
import { log } from '../../numerics/elementary.ts';

type SetPoint = NonNullable<AnalysisResult['setPoint']>;

/**
 * The pressure with equal margin to both guarded ends in the rule's own measure: pressure itself; gas flow, which goes
 * as the square root of the pressure above the fan-only pressure (orifice law); or ratio of pressures.
 *
 * @param low, high  guarded ends, in any one unit of pressure
 * @param fanOnly    pressure with the pilot valve shut and the fan running, same unit; 0 when not known
 */
export function splitEvenly(rule: SetPointRule, low: number, high: number, fanOnly: number): number {
  if (rule === 'equal-flow') {
    const flow = (p: number) => Math.sqrt(Math.max(0, p - fanOnly));
    return fanOnly + ((flow(low) + flow(high)) / 2) ** 2;
  }
  if (rule === 'equal-ratio' && low > 0) return Math.sqrt(low * high);
  return (low + high) / 2;
}

/**
 * Where a pressure lies between two others in the rule's own measure: 0 at the lower one, 1 at the higher one. Arguments as for
 * `splitEvenly`.
 */
export function shareBetween(rule: SetPointRule, low: number, high: number, value: number, fanOnly: number): number {
  const measure = (p: number) => {
    if (rule === 'equal-flow') return Math.sqrt(Math.max(0, p - fanOnly));
    return rule === 'equal-ratio' && low > 0 ? log(p) : p;
  };
  return (measure(value) - measure(low)) / (measure(high) - measure(low));
}

/**
 * The recommended set point; margins are pressures up to the guarded ends. Undefined where the guarded ends leave nothing
 * between them, and where gas flow is to be split and the fan-only pressure leaves none anywhere in the window.
 *
 * @param low, high  ends of the window; all pressures in one unit
 * @param fanOnly    as for `splitEvenly`
 */
export function findSetPoint(
  low: WindowEnd,
  high: WindowEnd,
  rule: SetPointRule,
  fanOnly: number,
  makerRange: { low: number; high: number } | undefined,
): SetPoint | undefined {
  if (low.guarded >= high.guarded) return undefined;
  if (rule === 'equal-flow' && fanOnly >= high.guarded) return undefined;
  const value = splitEvenly(rule, low.guarded, high.guarded, fanOnly);
  return {
    value,
    rule,
    provisional: low.cause === 'tested-end' || high.cause === 'tested-end',
    marginLow: value - low.guarded,
    marginHigh: high.guarded - value,
    withinMakerRange: !makerRange || (value >= makerRange.low && value <= makerRange.high),
  };
}

/**
 * Decision on a setting against the window with its guard band: inside the guarded ends `pass`; inside the ends but in
 * the guard band `conditional-pass`; outside by no more than the guard band of any evidence `conditional-fail`; further out `fail`.
 * Where the guarded ends meet nothing passes.
 *
 * @param value  the setting, in the unit of the ends
 * Source: ILAC-G8:09/2019, 4.2.3 (non-binary statement with guard band).
 */
export function decide(value: number, low: WindowEnd, high: WindowEnd): Decision {
  const isBetween = (from: number, to: number) => value >= from && value <= to;
  if (isBetween(low.guarded, high.guarded) && low.guarded < high.guarded) return 'pass';
  if (isBetween(low.value, high.value)) return 'conditional-pass';
  return isBetween(outwardOf(low), outwardOf(high)) ? 'conditional-fail' : 'fail';
}

/** An end moved outward as far as its guarded value lies inward, where nothing else is known of it. */
const outwardOf = ({ value, guarded, guardedOutward }: WindowEnd): number => guardedOutward ?? 2 * value - guarded;

/**
 * What keeps a setting from being inside the guarded window: the cause of the end that it is beyond, or of the guarded end that it is
 * too near.
 */
export const limitingCauses = (value: number, low: WindowEnd, high: WindowEnd): Cause[] => [
  ...(value < low.value ? [low.cause] : value < low.guarded ? [low.guardedBy ?? low.cause] : []),
  ...(value > high.value ? [high.cause] : value > high.guarded ? [high.guardedBy ?? high.cause] : []),
];
