import type { Role, Unit } from '../model/reading.ts';
import { unitFits } from '../model/reading.ts';
import type { PressureUnit, SignalUnit } from '../model/units.ts';
import { convertPressure, convertSignal, pressureUnits, signalUnits } from '../model/units.ts';

/** A unit as meters spell it: `factor` times `unit`, e.g. 1 bar = 1000 mbar. */
interface Spelling {
  /** As people write it: "bar". */
  name: string;
  unit: Unit;
  factor: number;
}

const spell = (unit: Unit, ...words: string[]): [string, Spelling][] =>
  words.map((word) => [word, { name: unit, unit, factor: 1 }]);

/**
 * Spellings as `normalize` gives them: lower case without spaces, dots, underscores or parentheses, an inch sign as `in`.
 * Upper case does not distinguish the prefixes, as many meters print capitals only; so `mpa`, which may
 * be milli or mega, is left out on purpose, while `mv` and `ma` can only be milli at a burner.
 */
const spellings = new Map<string, Spelling>([
  ...spell('inH2O', 'inh2o', 'inwc', 'inwg', 'inaq', 'inchh2o', 'inchesh2o', 'incheswc', 'inchwc', 'iwc', 'iwg'),
  ...spell('inH2O_4C', 'inh2o4c', 'inh2o@4c', 'inwc4c', 'inwc@4c'),
  ...spell('inH2O_60F', 'inh2o60f', 'inh2o@60f', 'inwc60f', 'inwc@60f'),
  ...spell('inH2O_20C', 'inh2o20c', 'inh2o@20c', 'inwc20c', 'inwc@20c'),
  ...spell('mmH2O', 'mmh2o', 'mmwc', 'mmwg', 'mmaq'),
  ...spell('Pa', 'pa', 'pascal'),
  ...spell('hPa', 'hpa'),
  ...spell('kPa', 'kpa'),
  ...spell('mbar', 'mbar', 'mbr', 'millibar'),
  ...spell('psi', 'psi', 'psig'),
  ['bar', { name: 'bar', unit: 'mbar', factor: 1000 }],
  ['dapa', { name: 'daPa', unit: 'Pa', factor: 10 }],
  ['cmh2o', { name: 'cmH2O', unit: 'mmH2O', factor: 10 }],
  ['cmwc', { name: 'cmH2O', unit: 'mmH2O', factor: 10 }],
  ...spell('V', 'v', 'vdc', 'dcv', 'volt', 'volts'),
  ...spell('mV', 'mv', 'mvdc', 'dcmv'),
  ['uv', { name: 'uV', unit: 'mV', factor: 1e-3 }],
  ...spell('uA', 'ua', 'uadc', 'dcua', 'microamp', 'microamps'),
  ...spell('mA', 'ma', 'madc', 'dcma', 'milliamp', 'milliamps'),
  ['a', { name: 'A', unit: 'mA', factor: 1000 }],
  ['adc', { name: 'A', unit: 'mA', factor: 1000 }],
  ['na', { name: 'nA', unit: 'uA', factor: 1e-3 }],
  ...spell('percent', '%', 'pct', 'percent'),
  ...spell('deg', 'deg', '°', 'degree', 'degrees'),
  ...spell('in', 'in', 'inch', 'inches'),
  ...spell('mm', 'mm'),
]);

/** Normalizes a spelling: both micro signs, inch signs, the zero that is typed for the O of H2O. */
const normalize = (token: string): string =>
  token
    .replaceAll(/[\u00b5\u03bc]/g, 'u')
    .replaceAll(/["\u2033\u201d]|''/g, 'in')
    .toLowerCase()
    .replaceAll(/[\s._()[\]\u00b0]+(?=.)/g, '')
    .replaceAll(/[\s._()[\]]+/g, '')
    .replace(/h20|h\u2082o/, 'h2o');

/** The unit at the beginning of `words` ("in H2O hold" begins with inH2O); undefined when there is no known unit. */
export function findUnit(words: string): Spelling | undefined {
  const tokens = words.trim().split(/\s+/);
  // Three words at most: "in. w. c."
  for (let count = Math.min(3, tokens.length); count > 0; count -= 1) {
    const found = spellings.get(normalize(tokens.slice(0, count).join('')));
    if (found) return found;
  }
  return undefined;
}

const isPressure = (unit: string): unit is PressureUnit => (pressureUnits as string[]).includes(unit);
const isSignal = (unit: string): unit is SignalUnit => (signalUnits as string[]).includes(unit);

/**
 * Whether numbers in `spelling` need no conversion into the channel's unit. A plain inH2O agrees with a channel in any
 * of the water columns: the channel defines which.
 */
export const agrees = ({ unit, factor }: Spelling, channelUnit: Unit): boolean =>
  factor === 1 && (unit === channelUnit || (unit === 'inH2O' && channelUnit.startsWith('inH2O')));

/**
 * Converts `value` from the unit `spelling` into the channel's unit; undefined when that is not possible.
 * A bare "in" after a pressure is refused: it may be inches of water or of mercury.
 */
export function toChannelUnit(value: number, spelling: Spelling, role: Role, unit: Unit): number | undefined {
  if (agrees(spelling, unit)) return value;
  if (spelling.unit === unit) return value * spelling.factor;
  if (!unitFits(role, spelling.unit)) return undefined;
  const converted = value * spelling.factor;
  if (isPressure(spelling.unit) && isPressure(unit)) return convertPressure(converted, spelling.unit, unit);
  if (isSignal(spelling.unit) && isSignal(unit)) return convertSignal(converted, spelling.unit, unit);
  return undefined;
}
