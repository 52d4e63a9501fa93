import type { WindowEnd } from '../model/results/analysis-result.ts';
import { formatConfidence, formatRange, pressureNumber, pressureUnitLabel } from '../model/format.ts';
import type { PressureUnit } from '../model/units.ts';

/**
 * What the range of an end is: the confidence interval of a fitted end; the bracket of two trials, which is no interval of any
 * confidence, widened on both sides by the expanded uncertainty of the manometer that read them where that is known; or, of an end that
 * is exact but for the manometer, the manometer's part (expanded uncertainty, k = 2). That is unknown where no accuracy was entered, and
 * where other evidence sets the guarded end.
 */
type RangeKind = 'confidence' | 'trials' | 'manometer' | 'unknown';

function rangeOf(
  { value, ci, guarded, guardedOutward, cause, guardedBy = cause }: WindowEnd,
  unit: PressureUnit,
): { kind: RangeKind; range: string } {
  const print = (pressure: number) => pressureNumber(pressure, unit);
  const range = formatRange(print(ci[0]), print(ci[1]));
  if (cause === 'light-off' && ci[0] !== ci[1]) {
    // Nothing but the manometer moves what was read at a trial.
    const part = guardedOutward === undefined ? 0 : Math.abs(guardedOutward - value);
    return { kind: 'trials', range: formatRange(print(ci[0] - part), print(ci[1] + part)) };
  }
  if (print(ci[0]) !== print(ci[1])) return { kind: 'confidence', range };
  const part = guardedBy === cause ? Math.abs(guarded - value) : 0;
  if (part === 0) return { kind: ci[0] === ci[1] ? 'unknown' : 'confidence', range };
  return { kind: 'manometer', range: formatRange(print(value - part), print(value + part)) };
}

/** How well an end is known, in numbers without the unit, for where its confidence is said beside it. */
export function endInterval(end: WindowEnd, unit: PressureUnit): string {
  const { kind, range } = rangeOf(end, unit);
  if (kind === 'unknown') return 'exact but for the manometer';
  if (kind === 'trials') return `${range}, bracket of two trials`;
  return kind === 'manometer' ? `${range}, with the manometer's accuracy` : range;
}

/** The same as a line of its own: "95 % confidence interval: 1.09 to 1.17 inH2O", "Bracket of two trials: 3.41 to 3.80 inH2O". */
export function endIntervalLine(end: WindowEnd, unit: PressureUnit, confidence: number): string {
  const { kind, range } = rangeOf(end, unit);
  if (kind === 'unknown') return 'Exact but for the manometer';
  const names: Record<Exclude<RangeKind, 'unknown'>, string> = {
    confidence: `${formatConfidence(confidence)} confidence interval`,
    trials: 'Bracket of two trials',
    manometer: "With the manometer's accuracy",
  };
  return `${names[kind]}: ${range} ${pressureUnitLabel(unit)}`;
}
