import { findUnit } from '../../instruments/unit-token.ts';
import { roles, type Unit, unitFits } from '../../model/reading.ts';

/** `factor` times `unit`. */
export interface Size {
  unit: Unit;
  factor: number;
}

/** A unit as a file writes it, e.g. "bar"; `size` is missing where it is not read here. */
export interface WrittenUnit {
  text: string;
  size?: Size;
}

/** The unit as it is written, where all of the text is one. UV is ultraviolet: microvolts have a small u or a micro sign. */
export function exactUnit(text: string): Size | undefined {
  if (text.trim() === 'UV') return undefined;
  const exact = roles.some((role) => unitFits(role, text));
  return exact ? { unit: text as Unit, factor: 1 } : findUnit(text.replaceAll(/\s/gu, ''));
}

/** Units that loggers write and that are not read here: named, and never taken for part of the name. */
const unreadUnit =
  /^(?:in\.?hg|"hg|[mc]m\.?hg|torr|atm|ata|ati|kgf?\/?cm[2²]|oz\/?in[2²]?|osi|ozin|mpa|ksi|ft\.?h2o|ftwc|m\.?h2o|mwc|°[cf]|deg[cf]|ohms?|hz|rpm|db[muv]?|counts?|cts)$/iu;
/** Those of them that may stand in the middle of a name as well. */
const unreadInside = /^(?:in\.?hg|[mc]m\.?hg|torr|mpa|ksi|ft\.?h2o|dbm)$/iu;

/** A factor before a unit, as in "x10 mbar" and "[0.1 mbar]": numbers of another size than those of the unit. */
const multiple = /(?:(?<![\p{L}\d])[x×*]\s?10+|(?<![\d.,])(?:10\^|1e)[-+]?\d|(?<![\d.,])0[.,]0*1(?![\d.,]))/iu;

/** Whether a map may say of a column in `written` that it is in `said`; a plain inH2O is any of the water columns. */
export const isOneSize = (written: Size, said: Size): boolean =>
  written.factor === said.factor &&
  (written.unit === said.unit || (written.unit === 'inH2O' && said.unit.startsWith('inH2O')));

const isMillibar = ({ unit }: Size): boolean => unit === 'hPa' || unit === 'mbar';
const isEqual = (a: Size, b: Size): boolean =>
  a.factor === b.factor && (a.unit === b.unit || (isMillibar(a) && isMillibar(b)));

/** Splits "Druck [mbar]", "Druck/mbar", "Druck, mbar", "Druck mbar". A lone A is no unit: it may count the channels. */
function splitName(heading: string): { name: string; unitText?: string } {
  const enclosed =
    /^(.*?)\s*[[(]\s*([^\])]*?)\s*[\])]$/u.exec(heading) ?? /^(.*\S)\s*[/,]\s*(\S[^/,]*)$/u.exec(heading);
  if (enclosed && enclosed[2] !== '') return { name: enclosed[1]!, unitText: enclosed[2]! };
  const word = /^(?:(.*\S)[\s_])?(\S+)$/u.exec(heading);
  if (word?.[1] !== undefined && unreadUnit.test(word[2]!)) return { name: word[1], unitText: word[2]! };
  if (word && word[2] !== 'A' && word[2] !== 'a' && word[2] !== 'v' && exactUnit(word[2]!))
    return { name: word[1] ?? '', unitText: word[2]! };
  return { name: heading };
}

/** Units of pressure or of a signal among the words of a name: "in H2O" of "Pressure in H2O max". */
function unitsInside(name: string): WrittenUnit[] {
  const words = name.split(/[\s_,/()[\]]+/u).filter(Boolean);
  const found: WrittenUnit[] = [];
  for (let i = 0; i < words.length; i += 1) {
    for (const count of [3, 2, 1]) {
      const text = words.slice(i, i + count).join(' ');
      if (i + count > words.length || /^[AaVv]$/u.test(text)) continue;
      const size = exactUnit(text);
      const isMeasured = size && (unitFits('pilot_pressure', size.unit) || unitFits('flame_signal', size.unit));
      if (!isMeasured && !unreadInside.test(text)) continue;
      found.push({ text, ...(isMeasured && { size }) });
      i += count - 1;
      break;
    }
  }
  return found;
}

/**
 * The name without its unit, and the units that heading and line of units write, those of one size once. `unit` is the one that is
 * certain: the only one, and where a unit belongs. `other` stands where a unit belongs and is none.
 *
 * @param below  the cell of the line of units
 */
export function unitsIn(
  heading: string,
  below: string | undefined,
): { name: string; written: WrittenUnit[]; unit?: WrittenUnit & { size: Size }; other?: string } {
  const { name, unitText } = splitName(heading);
  const scaled = [heading, below ?? ''].find((text) => multiple.test(text));
  if (scaled !== undefined) return { name, written: [{ text: scaled.slice(multiple.exec(scaled)!.index) }] };
  const inPlace = [below ?? '', unitText ?? ''].filter(Boolean);
  const known = inPlace.flatMap((text): WrittenUnit[] => {
    const size = exactUnit(text);
    if (size) return [{ text, size }];
    return unreadUnit.test(text) ? [{ text }] : [];
  });
  const written: WrittenUnit[] = [];
  for (const one of [...known, ...unitsInside(name)]) {
    const isNew = written.every(({ text, size }) => (size && one.size ? !isEqual(size, one.size) : text !== one.text));
    if (isNew) written.push(one);
  }
  const [only] = written;
  const isCertain = written.length === 1 && known.length > 0 && only?.size;
  const other = inPlace.find((text) => !exactUnit(text));
  return {
    name,
    written,
    ...(isCertain && { unit: { text: only.text, size: only.size! } }),
    ...(other !== undefined && { other }),
  };
}
