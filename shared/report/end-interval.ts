import type { WindowEnd } from '../model/analysis-result.ts';
import { pressureNumber } from '../model/format.ts';
import type { PressureUnit } from '../model/units.ts';

/**
 * How well an end is known, in numbers without the unit: the interval of a fitted end; the bracket of two trials, which is no interval
 * of any confidence; and, of an end that is exact but for the manometer, the manometer's part (expanded uncertainty, k = 2).
 */
export function endInterval({ value, ci, guarded, cause }: WindowEnd, unit: PressureUnit): string {
  const [from, to] = [pressureNumber(ci[0], unit), pressureNumber(ci[1], unit)];
  if (cause === 'light-off' && from !== to) return `bracket of two trials ${from} to ${to}`;
  if (from !== to) return `${from} to ${to}`;
  const part = Math.abs(guarded - value);
  return `${pressureNumber(value - part, unit)} to ${pressureNumber(value + part, unit)} by the manometer`;
}
