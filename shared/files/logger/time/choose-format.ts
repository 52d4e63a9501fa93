import { openFaults, type OpenPoint } from '../open-points.ts';
import { type TimeFormat, usualFormats } from './time-format.ts';

/** The places of the columns of the time, and of the date where that stands apart. */
export interface TimePlace {
  column: number;
  dateColumn?: number;
}

const reads = (format: TimeFormat, text: string): boolean => !Number.isNaN(format.read(text));

/** A usual format that reads all that `format` reads, and more. */
export function betterFormat(texts: string[], format: TimeFormat): TimeFormat | undefined {
  const unread = texts.filter((text) => !reads(format, text));
  return usualFormats.find(
    (other) =>
      unread.some((text) => reads(other, text)) && texts.every((text) => reads(other, text) || !reads(format, text)),
  );
}

/** The one format that reads all rows that any reads; else a fault with the candidates. */
export function oneFormat(file: string, texts: string[], place: TimePlace): TimeFormat | OpenPoint {
  const { unclear, ambiguous } = openFaults(file);
  const unknown = (problem: string): OpenPoint => ({
    about: 'time-format',
    formats: [],
    ...place,
    fault: unclear(problem, 'time.format'),
  });
  let left = [...usualFormats];
  let seen = 0;
  for (const text of texts) {
    const fitting = left.filter((format) => reads(format, text));
    if (fitting.length === 0 && !usualFormats.some((format) => reads(format, text))) {
      // Neither a damaged cell nor a line below the table speaks for a format; nothing but such is no time column.
      if (seen === 0 && texts.indexOf(text) > 20) break;
      continue;
    }
    if (fitting.length === 0)
      return unknown(`its times are not all of one format; "${text.slice(0, 40)}" is not like those before`);
    left = fitting;
    seen += 1;
  }
  if (seen === 0) return unknown(`its times, such as "${(texts[0] ?? '').slice(0, 40)}", are of no known format`);
  const formats = left.map(({ format }) => format);
  if (left.length > 1) {
    const fault = ambiguous('the format of its times', formats.join(' or '), 'time.format');
    return { about: 'time-format', formats, ...place, fault };
  }
  return left[0]!;
}
