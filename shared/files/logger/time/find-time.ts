import { type ColumnName, columnsNamed } from '../../../model/logger/mapping.ts';
import { type Decimal, readNumeral } from '../numbers.ts';
import { quoted } from '../column-text.ts';
import { openFaults, type OpenPoint } from '../open-points.ts';
import { betterFormat, oneFormat, type TimePlace } from './choose-format.ts';
import { type TimeFormat, timeFormat } from './time-format.ts';

/** How the times are read: which columns, and seconds from their text. */
export interface TimeGuess extends TimePlace {
  format: string;
  /** Seconds from the zero of the file's own time; NaN where the text is no time. */
  read(text: string): number;
  /** Whether the times begin anew at midnight. */
  isClock: boolean;
  /** Whether they say the day. */
  hasDate: boolean;
}

const timeName =
  /time|zeit|heure|hora|temps|tempo|^ora\b|\btid\b|tijd|aika|czas|elapsed|^t(?:\b|_)|^sec|^sek|uhr|stamp|^klok/iu;
const dateName = /date|datum|fecha|^data\b|dato|p[aä]iv|dag/iu;
const secondsPer: Record<string, number> = {
  s: 1,
  sec: 1,
  second: 1,
  seconds: 1,
  sekunden: 1,
  ms: 1e-3,
  min: 60,
  h: 3600,
};
const plainNumber = /^[+-]?[\d.,]+$/u;

/** The unit of a time that is a number, as heading or line of units give it. */
const timeUnit = (name: string, below: string | undefined): string | undefined => {
  const found =
    below ||
    (/[[(/,_\s]\s*(ms|s|sec|seconds|min|h)\s*[\])]?$/iu.exec(name) ?? /^(seconds|sekunden|sec|s)$/iu.exec(name))?.[1];
  return found === undefined || secondsPer[found.toLowerCase()] === undefined ? undefined : found.toLowerCase();
};

/** The text of the time of a row: date and time with a blank between where they stand apart. */
export const timeText = (row: string[], { column, dateColumn }: TimePlace): string =>
  dateColumn === undefined ? (row[column] ?? '') : `${row[dateColumn] ?? ''} ${row[column] ?? ''}`;

/** The text of the first row that has a time. */
export const firstTimeText = (rows: string[][], place: TimePlace): string =>
  rows.map((row) => timeText(row, place)).find((text) => text.trim() !== '') ?? '';

/**
 * The time columns and their format. A format is taken when it alone reads every row that any of the usual formats reads.
 * @param given  what the mapping says
 */
export function findTime(
  file: string,
  table: { names: string[]; units: string[]; rows: string[][]; decimal: Decimal | undefined },
  given: { column?: ColumnName; dateColumn?: ColumnName; format?: string } = {},
): TimeGuess | OpenPoint {
  const { names, rows } = table;
  const { unclear, ambiguous } = openFaults(file);
  const place = findPlace(file, names, given);
  if ('fault' in place) return place;
  const texts = rows.map((row) => timeText(row, place)).filter((text) => text.trim() !== '');

  const name = names[place.column]!;
  const unit = given.format ?? timeUnit(name, table.units[place.column]);
  const per = unit === undefined ? undefined : secondsPer[unit];
  if (texts.length > 0 && texts.filter((text) => plainNumber.test(text)).length > texts.length / 2) {
    if (per === undefined && given.format === undefined) {
      const fault = ambiguous(
        `the unit of the time column ${quoted(name, place.column)}`,
        's, ms, min or h',
        'time.format',
      );
      return { about: 'time-format', formats: ['s', 'ms', 'min', 'h'], ...place, fault };
    }
  }
  if (per !== undefined && unit !== undefined) {
    const decimal = table.decimal ?? '.';
    const read = (text: string) => {
      const found = readNumeral(text.trim(), decimal);
      return found?.rest === '' ? found.value * per : Number.NaN;
    };
    if (given.format !== undefined || texts.some((text) => plainNumber.test(text)))
      return { ...place, format: unit, read, isClock: false, hasDate: false };
  }
  if (given.format === undefined) {
    const found = oneFormat(file, texts, place);
    return 'fault' in found ? found : guessOf(place, found);
  }
  const format = timeFormat(given.format);
  const invalid = (problem: string): OpenPoint => ({ about: 'mapping', fault: unclear(problem, 'time.format') });
  if (format === undefined) return invalid(`"${given.format}" is no format of a time`);
  const better = betterFormat(texts, format);
  if (better !== undefined)
    return invalid(`"${given.format}" does not read all of its times, but "${better.format}" does`);
  return guessOf(place, format);
}

const guessOf = (place: TimePlace, { format, read, hasDate }: TimeFormat): TimeGuess => ({
  ...place,
  format,
  read,
  isClock: !hasDate,
  hasDate,
});

/** The columns of time and date: those given, else by their names. */
function findPlace(
  file: string,
  names: string[],
  given: { column?: ColumnName; dateColumn?: ColumnName },
): TimePlace | OpenPoint {
  const { unclear, ambiguous } = openFaults(file);
  // Where no column has a name, any may be the time.
  const all = names.flatMap((name, index) => (name === '' && names.some(Boolean) ? [] : [index]));
  const asked = (name: ColumnName | undefined) => (name === undefined ? [] : columnsNamed(names, name));
  const missing = [given.column, given.dateColumn].find((name) => name !== undefined && asked(name).length === 0);
  if (missing !== undefined)
    return {
      about: 'mapping',
      fault: unclear(`it has no column "${missing}"; its columns are ${names.join(', ')}`, 'time'),
    };
  const dated = names.findIndex((name) => dateName.test(name) && !timeName.test(name));
  const timed = names.flatMap((name, i) => (i !== dated && timeName.test(name) ? [i] : []));
  const [givenColumn] = asked(given.column);
  const [givenDate] = asked(given.dateColumn);
  if (givenColumn === undefined && timed.length > 1) {
    const candidates = timed.map((i) => `"${names[i]}"`).join(' or ');
    return { about: 'time-column', columns: timed, fault: ambiguous('the time column', candidates, 'time') };
  }
  const column = givenColumn ?? timed[0] ?? (dated >= 0 ? dated : undefined);
  if (column === undefined) {
    const problem = `none of its columns is known to be the time: ${names.join(', ') || 'they have no names'}`;
    return { about: 'time-column', columns: all, fault: unclear(problem, 'time') };
  }
  const dateColumn = givenDate ?? (givenColumn === undefined && dated >= 0 && dated !== column ? dated : undefined);
  return { column, ...(dateColumn !== undefined && { dateColumn }) };
}
