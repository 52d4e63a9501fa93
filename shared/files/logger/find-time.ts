import type { Fault } from '../../model/faults.ts';
import { fault } from '../../model/faults.ts';
import { type Decimal, readNumeral } from './numbers.ts';
import { type TimeFormat, timeFormat, usualFormats } from './time-format.ts';

/** How the times are read: which columns, and seconds from their text. */
export interface TimeGuess {
  column: number;
  dateColumn?: number;
  format: string;
  /** Seconds from the zero of the file's own time; NaN where the text is no time. */
  read(text: string): number;
  /** Whether the times begin anew at midnight. */
  isClock: boolean;
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
export const timeText = (row: string[], { column, dateColumn }: { column: number; dateColumn?: number }): string =>
  dateColumn === undefined ? (row[column] ?? '') : `${row[dateColumn] ?? ''} ${row[column] ?? ''}`;

/**
 * The time columns and their format. A format is taken when it alone reads every row that any of the usual formats reads.
 * @param given  what the mapping says
 */
export function findTime(
  file: string,
  table: { names: string[]; units: string[]; rows: string[][]; decimal: Decimal | undefined },
  given: { column?: string; dateColumn?: string; format?: string } = {},
): TimeGuess | Fault {
  const { names, rows } = table;
  const unclear = (problem: string, key = 'time') => fault('map-unclear', { file, problem, key });
  const missing = [given.column, given.dateColumn].find((name) => name !== undefined && !names.includes(name));
  if (missing !== undefined) return unclear(`it has no column "${missing}"; its columns are ${names.join(', ')}`);

  const dated = names.findIndex((name) => dateName.test(name) && !timeName.test(name));
  const timed = names.flatMap((name, i) => (i !== dated && timeName.test(name) ? [i] : []));
  let column = given.column === undefined ? timed[0] : names.indexOf(given.column);
  if (given.column === undefined && timed.length > 1)
    return fault('map-ambiguous', {
      file,
      what: 'the time column',
      candidates: timed.map((i) => `"${names[i]}"`).join(' or '),
      key: 'time',
    });
  let dateColumn = given.dateColumn === undefined ? undefined : names.indexOf(given.dateColumn);
  if (column === undefined && dated >= 0) column = dated;
  else if (column !== undefined && given.column === undefined && dateColumn === undefined && dated >= 0)
    dateColumn = dated;
  if (column === undefined) return unclear(`none of its columns is known to be the time: ${names.join(', ')}`);
  const place = { column, ...(dateColumn !== undefined && { dateColumn }) };
  const texts = rows.map((row) => timeText(row, place)).filter((text) => text.trim() !== '');

  const unit = given.format ?? timeUnit(names[column]!, table.units[column]);
  const per = unit === undefined ? undefined : secondsPer[unit];
  if (texts.length > 0 && texts.filter((text) => plainNumber.test(text)).length > texts.length / 2) {
    if (per === undefined && given.format === undefined)
      return fault('map-ambiguous', {
        file,
        what: `the unit of the time column "${names[column]}"`,
        candidates: 's, ms, min or h',
        key: 'time.format',
      });
  }
  if (per !== undefined && unit !== undefined) {
    const decimal = table.decimal ?? '.';
    const read = (text: string) => {
      const found = readNumeral(text.trim(), decimal);
      return found?.rest === '' ? found.value * per : Number.NaN;
    };
    if (given.format !== undefined || texts.some((text) => plainNumber.test(text)))
      return { ...place, format: unit, read, isClock: false };
  }
  const format = given.format === undefined ? oneFormat(file, texts) : timeFormat(given.format);
  if (format === undefined) return unclear(`"${given.format}" is no format of a time`, 'time.format');
  return 'code' in format ? format : { ...place, format: format.format, read: format.read, isClock: !format.hasDate };
}

/** The one format that reads all rows that any reads; else a fault with the candidates. */
function oneFormat(file: string, texts: string[]): TimeFormat | Fault {
  let left = [...usualFormats];
  let seen = 0;
  for (const text of texts) {
    const fitting = left.filter((format) => !Number.isNaN(format.read(text)));
    if (fitting.length === 0 && usualFormats.every((format) => Number.isNaN(format.read(text)))) {
      // Neither a damaged cell nor a line below the table speaks for a format; nothing but such is no time column.
      if (seen === 0 && texts.indexOf(text) > 20) break;
      continue;
    }
    if (fitting.length === 0)
      return fault('map-unclear', {
        file,
        problem: `its times are not all of one format; "${text.slice(0, 40)}" is not like those before`,
        key: 'time.format',
      });
    left = fitting;
    seen += 1;
  }
  if (seen === 0)
    return fault('map-unclear', {
      file,
      problem: `its times, such as "${(texts[0] ?? '').slice(0, 40)}", are of no known format`,
      key: 'time.format',
    });
  if (left.length > 1)
    return fault('map-ambiguous', {
      file,
      what: 'the format of its times',
      candidates: left.map(({ format }) => format).join(' or '),
      key: 'time.format',
    });
  return left[0]!;
}
