import { type Mark, markKinds, type RawLine } from '../model/capture.ts';
import { type Flag, flags, type Reading, roles, unitFits, unitsOfRole } from '../model/reading.ts';
import { createSkippedRows, excerpt, noTime } from './skipped-rows.ts';
import type { NamedText } from './setup-file.ts';
import { parseNumber, readTable } from './table.ts';

/** The usable rows of a table, and notices about the others. */
export interface TableRows<T> {
  heading: string[];
  rows: T[];
  notices: string[];
}

/** The cell of a row by the name of its column; empty when there is none. */
type Cell = (name: string) => string;

/** Reads the rows of a table one by one; `read` gives the value of a row, or why it cannot be used. */
function readRows<T extends object>(
  { file, text }: NamedText,
  read: (cell: Cell) => T | string,
  options: { verbatim?: boolean } = {},
): TableRows<T> {
  const { heading, rows: cells } = readTable(text, { exact: true, ...options });
  const at = new Map(heading.map((name, i) => [name, i]));
  const rows: T[] = [];
  const skipped = createSkippedRows(file);
  for (const [i, row] of cells.entries()) {
    const value = read((name) => row[at.get(name) ?? -1] ?? '');
    if (typeof value === 'string') skipped.add(i + 2, value);
    else rows.push(value);
  }
  return { heading, rows, notices: skipped.notices(cells.length) };
}

/**
 * The readings of a package. A value that is not a number becomes a flagged reading; a row without a time, or of an unknown channel
 * or unit, is left out.
 * @param lines  the raw lines that readings may name
 */
export function readReadings(table: NamedText, lines: RawLine[]): TableRows<Reading> {
  const rawOf = new Map(lines.map((line) => [line.seq, line.raw]));
  let unknownLines = 0;
  const read = readRows(table, (cell): Reading | string => {
    const elapsedS = parseNumber(cell('elapsed_s'));
    if (Number.isNaN(elapsedS)) return noTime(cell('elapsed_s'));
    const role = roles.find((known) => known === cell('channel'));
    if (!role) return `the channel "${excerpt(cell('channel'))}" is not known`;
    const unit = cell('unit');
    if (!unitFits(role, unit)) return `${role} is known in ${unitsOfRole[role].join(', ')}, not in "${excerpt(unit)}"`;
    const seq = parseNumber(cell('line'));
    const line = Number.isSafeInteger(seq) ? seq : undefined;
    const named = line === undefined ? undefined : rawOf.get(line);
    if (cell('line') !== '' && named === undefined) unknownLines += 1;
    const known = flags.find((flag) => flag === cell('flag'));
    const value = known ? Number.NaN : parseNumber(cell('value'));
    const flag: Flag | undefined = known ?? (Number.isNaN(value) ? 'unreadable' : undefined);
    const raw = cell('raw') || (named ?? (flag ? cell('value') : ''));
    return { role, unit, elapsedS, value, ...(flag && { flag }), raw, ...(line !== undefined && { line }) };
  });
  if (unknownLines > 0)
    read.notices.push(
      `${table.file}: ${unknownLines} of its readings ${unknownLines === 1 ? 'names' : 'name'} a raw line that is not in the package.`,
    );
  return read;
}

/** The raw lines of a package, each with a unique number. */
export function readLines(table: NamedText): TableRows<RawLine> {
  const known = new Set<number>();
  const read = (cell: Cell): RawLine | string => {
    const seq = parseNumber(cell('line'));
    if (!Number.isSafeInteger(seq)) return `line must be a whole number, not "${excerpt(cell('line'))}"`;
    if (known.has(seq)) return `there is a line ${seq} before it`;
    const elapsedS = parseNumber(cell('elapsed_s'));
    if (Number.isNaN(elapsedS)) return noTime(cell('elapsed_s'));
    known.add(seq);
    const encoding = cell('encoding') === 'latin1' ? 'latin1' : 'utf8';
    return { seq, elapsedS, port: cell('port'), raw: cell('raw'), encoding };
  };
  return readRows(table, read, { verbatim: true });
}

/** The marks of a package. */
export const readMarks = (table: NamedText): TableRows<Mark> =>
  readRows(table, (cell): Mark | string => {
    const elapsedS = parseNumber(cell('elapsed_s'));
    if (Number.isNaN(elapsedS)) return noTime(cell('elapsed_s'));
    const kind = markKinds.find((known) => known === cell('kind'));
    return kind ? { elapsedS, kind, text: cell('text') } : `the kind "${excerpt(cell('kind'))}" is not known`;
  });
