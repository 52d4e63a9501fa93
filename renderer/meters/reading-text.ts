import {
  formatNumber,
  pressureNumber,
  pressureUnitLabel,
  signalNumber,
  signalUnitLabel,
} from '../../shared/model/format.ts';
import { pressureUnits, signalUnits } from '../../shared/model/units.ts';

/** A reading of any unit as text: the value with the decimals that its unit has everywhere, and the unit as people write it. */
export function readingText({ unit, value }: { unit: string; value: number }): { text: string; unit: string } {
  const pressure = pressureUnits.find((one) => one === unit);
  if (pressure) return { text: pressureNumber(value, pressure), unit: pressureUnitLabel(pressure) };
  const signal = signalUnits.find((one) => one === unit);
  if (signal) return { text: signalNumber(value, signal), unit: signalUnitLabel(signal) };
  return { text: formatNumber(value, 1), unit };
}
