import { pressureUnitLabel, signalUnitLabel } from '../model/format.ts';
import { pressureUnits, signalUnits } from '../model/units.ts';

/** What may follow a number as its unit; of "inH2O (4 °C)" the part up to the space. */
const units = [...pressureUnits.map(pressureUnitLabel), ...signalUnits.map(signalUnitLabel), 's', 'min', 'h'].map(
  (label) => label.split(' ')[0]!,
);
const beforeUnit = new RegExp(`(?<=\\d) (?=(?:${[...new Set(units)].join('|')})(?![\\p{L}\\d]))`, 'gu');

/** Puts a no-break space between each number and its unit, so that no line ends between them. */
export const joinUnits = (text: string): string => text.replaceAll(beforeUnit, '\u00a0');
