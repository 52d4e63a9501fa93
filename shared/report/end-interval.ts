import type { WindowEnd } from '../model/analysis-result.ts';
import { formatConfidence, pressureNumber, pressureUnitLabel } from '../model/format.ts';
import type { PressureUnit } from '../model/units.ts';

/**
 * What the range of an end is: the confidence interval of a fitted end; the bracket of two trials, which is no interval of any
 * confidence; or, of an end that is exact but for the manometer, the manometer's part (expanded uncertainty, k = 2).
 */
type RangeKind = 'confidence' | 'trials' | 'manometer';

function rangeOf({ value, ci, guarded, cause }: WindowEnd, unit: PressureUnit): { kind: RangeKind; range: string } {
  const [from, to] = [pressureNumber(ci[0], unit), pressureNumber(ci[1], unit)];
  if (from !== to) return { kind: cause === 'light-off' ? 'trials' : 'confidence', range: `${from} to ${to}` };
  const part = Math.abs(guarded - value);
  return { kind: 'manometer', range: `${pressureNumber(value - part, unit)} to ${pressureNumber(value + part, unit)}` };
}

/** How well an end is known, in numbers without the unit, for where its confidence is said beside it. */
export function endInterval(end: WindowEnd, unit: PressureUnit): string {
  const { kind, range } = rangeOf(end, unit);
  if (kind === 'trials') return `${range}, bracket of two trials`;
  return kind === 'manometer' ? `${range}, by the manometer` : range;
}

/** The same as a line of its own: "95 % confidence interval: 1.09 to 1.17 inH2O", "Bracket of two trials: 3.41 to 3.80 inH2O". */
export function endIntervalLine(end: WindowEnd, unit: PressureUnit, confidence: number): string {
  const names: Record<RangeKind, string> = {
    confidence: `${formatConfidence(confidence)} confidence interval`,
    trials: 'Bracket of two trials',
    manometer: 'Uncertainty of the manometer',
  };
  const { kind, range } = rangeOf(end, unit);
  return `${names[kind]}: ${range} ${pressureUnitLabel(unit)}`;
}
